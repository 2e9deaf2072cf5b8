using System.Globalization;
using CsvHelper;
using FruitWatch.Model.Weather;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>
/// Daily weather as CSV: <c>date, tmax_c, tmin_c, rain_mm</c>, and optionally <c>wind_m_s, rh_percent, rs_mj_m2</c>. A blank cell
/// is unknown. Reads all of it or throws, naming line and column.
/// </summary>
internal static class WeatherCsv
{
    private static readonly string[] s_required = ["date", "tmax_c", "tmin_c", "rain_mm"];

    private static readonly Dictionary<string, (double Low, double High)> s_ranges = new()
    {
        ["tmax_c"] = (-90, 60),
        ["tmin_c"] = (-90, 60),
        ["rain_mm"] = (0, 2000),
        ["wind_m_s"] = (0, 120),
        ["rh_percent"] = (0, 100),
        ["rs_mj_m2"] = (0, 60),
    };

    public static IReadOnlyList<WeatherDay> Read(string name, string text)
    {
        using var reader = CsvReader.FromText(text, new CsvReaderOptions
        {
            Separator = ',',
            HasHeader = false,
            TrimWhitespace = true,
            TrackLineNumbers = true,
            AllowLineBreaksInQuotes = false,
            MalformedData = CsvMalformedDataHandling.Throw,
        });
        try
        {
            return Days(name, reader);
        }
        catch (CsvFormatException error)
        {
            throw new VerbException($"{name}, line {error.LineNumber}: a quotation mark is not closed or not doubled.");
        }
    }

    private static List<WeatherDay> Days(string name, CsvReader reader)
    {
        if (!reader.Read())
            throw new VerbException($"{name}: the file is empty; expected a header line: {string.Join(',', s_required)}.");

        var header = Header(name, reader.Current.ToArray());
        var days = new List<WeatherDay>();
        var seen = new Dictionary<LocalDate, int>();
        while (reader.Read())
        {
            var row = new Row(name, (int)reader.LineNumber, header, reader.Current.ToArray());
            var day = row.Day();
            if (!seen.TryAdd(day.Date, row.Line))
                throw row.Error("date", $"{day.Date:uuuu-MM-dd} is already on line {seen[day.Date]}; expected each day once");
            days.Add(day);
        }

        return days.Count > 0 ? days : throw new VerbException($"{name}, line 2: expected at least one day after the header.");
    }

    private static string[] Header(string name, string[] columns)
    {
        for (var i = 0; i < columns.Length; i++)
        {
            if (columns[i] != "date" && !s_ranges.ContainsKey(columns[i]))
                throw new VerbException($"{name}, line 1, column {i + 1}: '{columns[i]}' is not known; expected date, {string.Join(", ", s_ranges.Keys)}.");
            if (Array.IndexOf(columns, columns[i]) < i)
                throw new VerbException($"{name}, line 1, column {i + 1}: '{columns[i]}' stands there twice.");
        }

        foreach (var required in s_required.Except(columns))
            throw new VerbException($"{name}, line 1: the column {required} is missing.");
        return columns;
    }

    private sealed class Row(string name, int line, string[] header, string[] cells)
    {
        public int Line => line;

        public WeatherDay Day()
        {
            if (cells.Length != header.Length)
                throw new VerbException($"{name}, line {line}: {cells.Length} cells; expected {header.Length}, as the header has.");

            var text = cells[Array.IndexOf(header, "date")];
            var date = LocalDatePattern.Iso.Parse(text) is { Success: true } parsed
                ? parsed.Value
                : throw Error("date", $"'{text}' is not a date; expected year-month-day, such as 2026-05-31");
            var tmax = Number("tmax_c");
            var tmin = Number("tmin_c");
            if (tmin > tmax)
                throw Error("tmin_c", string.Create(CultureInfo.InvariantCulture, $"{tmin} is above the day's tmax_c {tmax}; expected at most that"));
            return new WeatherDay(date, tmax, tmin, Number("rain_mm"))
            {
                Wind = Number("wind_m_s"),
                Humidity = Number("rh_percent"),
                Radiation = Number("rs_mj_m2"),
            };
        }

        public VerbException Error(string column, string message) => new(string.Create(
            CultureInfo.InvariantCulture, $"{name}, line {line}, column {Array.IndexOf(header, column) + 1} ({column}): {message}."));

        private double? Number(string column)
        {
            var at = Array.IndexOf(header, column);
            if (at < 0 || cells[at].Length == 0)
                return null;
            var (low, high) = s_ranges[column];
            // No thousands separator: "1,5" must not read as 15.
            if (!double.TryParse(cells[at], NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || !double.IsFinite(value))
                throw Error(column, $"'{cells[at]}' is not a number; expected one with a decimal point, or nothing where it is unknown");
            return value >= low && value <= high
                ? value
                : throw Error(column, string.Create(CultureInfo.InvariantCulture, $"{value} is out of range; expected {low} to {high}"));
        }
    }
}
