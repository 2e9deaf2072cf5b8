using System.Globalization;
using System.Text;

namespace FruitWatch.Service.Tests.Accounts;

/// <summary>A mistake in the weather file: one message with file, line, column and what is expected; nothing is printed.</summary>
public sealed class MalformedWeatherTests : IDisposable
{
    private const string Columns = "expected date, tmax_c, tmin_c, rain_mm, wind_m_s, rh_percent, rs_mj_m2.";

    private readonly AccountFiles files = new();

    [Theory]
    [InlineData("date,", "day,", "weather.csv, line 1, column 1: 'day' is not known; " + Columns)]
    [InlineData("rain_mm", "rain", "weather.csv, line 1, column 4: 'rain' is not known; " + Columns)]
    [InlineData("tmin_c", "tmax_c", "weather.csv, line 1, column 3: 'tmax_c' stands there twice.")]
    [InlineData(",rain_mm", "", "weather.csv, line 1: the column rain_mm is missing.")]
    [InlineData(",", ";", "weather.csv, line 1, column 1: 'date;tmax_c;tmin_c;rain_mm' is not known; " + Columns)]
    [InlineData("2026-04-02", "02.04.2026", "weather.csv, line 3, column 1 (date): '02.04.2026' is not a date; expected year-month-day, such as 2026-05-31.")]
    [InlineData("2026-04-02", "2026-02-30", "weather.csv, line 3, column 1 (date): '2026-02-30' is not a date; expected year-month-day, such as 2026-05-31.")]
    [InlineData("2026-04-02", "", "weather.csv, line 3, column 1 (date): '' is not a date; expected year-month-day, such as 2026-05-31.")]
    [InlineData("2026-04-02", "2026-04-01", "weather.csv, line 3, column 1 (date): 2026-04-01 is already on line 2; expected each day once.")]
    [InlineData("15.5", "warm", "weather.csv, line 3, column 2 (tmax_c): 'warm' is not a number; expected one with a decimal point, or nothing where it is unknown.")]
    [InlineData("15.5", "NaN", "weather.csv, line 3, column 2 (tmax_c): 'NaN' is not a number; expected one with a decimal point, or nothing where it is unknown.")]
    [InlineData("15.5", "\"15,5\"", "weather.csv, line 3, column 2 (tmax_c): '15,5' is not a number; expected one with a decimal point, or nothing where it is unknown.")]
    [InlineData("2.4", "2.4 mm", "weather.csv, line 3, column 4 (rain_mm): '2.4 mm' is not a number; expected one with a decimal point, or nothing where it is unknown.")]
    [InlineData("2.4", "1e999", "weather.csv, line 3, column 4 (rain_mm): '1e999' is not a number; expected one with a decimal point, or nothing where it is unknown.")]
    [InlineData("2.4", "-2.4", "weather.csv, line 3, column 4 (rain_mm): -2.4 is out of range; expected 0 to 2000.")]
    [InlineData("15.5", "68", "weather.csv, line 3, column 2 (tmax_c): 68 is out of range; expected -90 to 60.")]
    [InlineData("15.5,6.0", "6.25,15.5", "weather.csv, line 3, column 3 (tmin_c): 15.5 is above the day's tmax_c 6.25; expected at most that.")]
    [InlineData("15.5", "15,5", "weather.csv, line 3: 5 cells; expected 4, as the header has.")]
    [InlineData(",2.4", "", "weather.csv, line 3: 3 cells; expected 4, as the header has.")]
    [InlineData("2.4", "\"2.4", "weather.csv, line 3: a quotation mark is not closed or not doubled.")]
    [InlineData("2.4", "2\"4", "weather.csv, line 3: a quotation mark is not closed or not doubled.")]
    public void A_mistake_in_the_text_is_named_with_its_place(string right, string wrong, string message) =>
        Assert.Equal(message, files.Refusal(weather: AccountFiles.Weather.Replace(right, wrong, StringComparison.Ordinal)));

    [Theory]
    [InlineData("", "weather.csv: the file is empty; expected a header line: date,tmax_c,tmin_c,rain_mm.")]
    [InlineData("\n\n", "weather.csv: the file is empty; expected a header line: date,tmax_c,tmin_c,rain_mm.")]
    [InlineData("date,tmax_c,tmin_c,rain_mm\n", "weather.csv, line 2: expected at least one day after the header.")]
    [InlineData("date,tmax_c,tmin_c,rain_mm,rh_percent\n2026-04-01,9,5,0,120", "weather.csv, line 2, column 5 (rh_percent): 120 is out of range; expected 0 to 100.")]
    [InlineData("date,tmax_c,tmin_c,rain_mm,wind_m_s\n2026-04-01,9,5,0,-1", "weather.csv, line 2, column 5 (wind_m_s): -1 is out of range; expected 0 to 120.")]
    [InlineData("date,tmax_c,tmin_c,rain_mm,rs_mj_m2\n2026-04-01,9,5,0,250", "weather.csv, line 2, column 5 (rs_mj_m2): 250 is out of range; expected 0 to 60.")]
    [InlineData(
        "date,tmax_c,tmin_c,rain_mm\n2026-04-01,,,\n",
        "weather.csv: the weather of 2026-04-01 is unknown, and the file has no other days from which to tell what is usual then: add the day, or more years.")]
    public void A_file_that_is_no_weather_is_refused(string weather, string message) =>
        Assert.Equal(message, files.Refusal(weather: weather));

    [Fact]
    public void A_file_that_is_not_there_is_named()
    {
        File.WriteAllText(files.CasePath, AccountFiles.Case);

        Assert.StartsWith("weather.csv: cannot be read: ", files.RefusalOn(files.WeatherPath, files.CasePath), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_is_not_UTF_8_is_named()
    {
        File.WriteAllText(files.CasePath, AccountFiles.Case);
        File.WriteAllBytes(files.WeatherPath, Encoding.Latin1.GetBytes("dáte,tmax_c"));

        Assert.Equal("weather.csv: not UTF-8 text.", files.RefusalOn(files.WeatherPath, files.CasePath));
    }

    [Fact]
    public void Numbers_in_a_message_are_written_as_in_the_file_whatever_the_users_language()
    {
        var before = CultureInfo.CurrentCulture;
        CultureInfo.CurrentCulture = CultureInfo.GetCultureInfo("es-ES");
        try
        {
            Assert.Contains(
                "15.5 is above the day's tmax_c 6.25",
                files.Refusal(weather: AccountFiles.Weather.Replace("15.5,6.0", "6.25,15.5", StringComparison.Ordinal)),
                StringComparison.Ordinal);
        }
        finally
        {
            CultureInfo.CurrentCulture = before;
        }
    }

    [Theory]
    [InlineData("2026-04-02,15.5,6.0,2.4", "")]
    [InlineData("2026-04-02,15.5,6.0,2.4", "\n\n")]
    [InlineData("2.4", "")]
    [InlineData("15.5,6.0", " 15.5 , 6.0 ")]
    [InlineData("date,", "\uFEFFdate,")]
    [InlineData("\n", "\r\n")]
    public void Blank_lines_blank_cells_spaces_and_either_line_ending_are_no_mistake(string plain, string other)
    {
        var printed = files.Run(weather: AccountFiles.Weather.Replace(plain, other, StringComparison.Ordinal));

        Assert.Equal(5, printed.Split('\n', StringSplitOptions.RemoveEmptyEntries).Length);
    }

    public void Dispose() => files.Dispose();
}
