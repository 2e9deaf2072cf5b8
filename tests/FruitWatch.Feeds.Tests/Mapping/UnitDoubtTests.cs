using System.Globalization;
using System.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Tests.Mapping;

public sealed class UnitDoubtTests
{
    private static readonly double[] WetWeeks = [0, 4, 12, 0, 0, 2.5, 7, 0, 20, 1, 0, 3, 9, 0, 0, 5];

    [Theory]
    [InlineData(52, 11, "[degF]")] // 52 °F is 11 °C: a mild day that no limit catches.
    [InlineData(35, 12, null)]
    [InlineData(48, 5, "0.1 Cel")]
    [InlineData(19, 19, "Cel", 0.1)]
    public void Maxima_far_from_the_usual_are_asked_about_with_what_would_fit(double read, double usual, string? fit, double scale = 1)
    {
        var question = Assert.Single(Read(Days(read - 1, read, read + 1), scale).UnitQuestions(new SiteUsual([usual - 1, usual, usual + 1], [])));
        Assert.Equal(("tmax", FeedCodes.SuspectUnits), (question.Series, question.Code));
        Assert.Equal(fit, question.Fits.Select(one => one.ReadAs).FirstOrDefault());
        Assert.Contains(question.Usual.ToString("0.##", CultureInfo.InvariantCulture), question.Sentence, StringComparison.Ordinal);
    }

    [Fact]
    public void Warmer_or_colder_by_a_dozen_degrees_is_weather() =>
        Assert.Empty(Read(Days(24, 25, 26)).UnitQuestions(new SiteUsual([12, 13, 14], WetWeeks)));

    [Theory]
    [InlineData(1 / 25.4, "mm", "[in_i]", "/series/rain/unit/code", "\"[in_i]\"")]
    [InlineData(0.1, "mm", "cm", "/series/rain/unit/code", "\"cm\"")]
    [InlineData(10, "mm", "0.1 mm", "/series/rain/scale", "0.1")]
    [InlineData(1, "[in_i]", "mm", "/series/rain/unit/code", "\"mm\"")]
    public void Rain_off_by_the_factor_of_a_unit_is_asked_about_with_the_one_change_that_mends_it(
        double factor, string code, string fit, string place, string value)
    {
        var rows = Rows(Enumerable.Range(0, WetWeeks.Length).Select(i => (20.0, WetWeeks[(i + 3) % WetWeeks.Length] * factor)));
        var question = Assert.Single(Read(rows, rainCode: code).UnitQuestions(new SiteUsual([20, 20, 20], WetWeeks)));
        Assert.Equal(("rain", code), (question.Series, question.ReadAs));
        Assert.Equal((fit, place, value), (question.Fits[0].ReadAs, question.Fits[0].Place, question.Fits[0].Value));
        Assert.Contains(place[1..].Replace('/', '.'), question.Fits[0].Mend, StringComparison.Ordinal);
    }

    [Fact]
    public void The_change_offered_answers_the_question()
    {
        var rows = Days(51, 52, 53);
        var usual = new SiteUsual([10, 11, 12], []);
        var fit = Read(rows).UnitQuestions(usual).Single().Fits[0];
        Assert.Equal("/series/tmax/unit/code", fit.Place);
        var mended = Feeds.Changed("station-daily-csv", json => json["series"]!["tmax"]!["unit"]!["code"] = System.Text.Json.Nodes.JsonNode.Parse(fit.Value));
        Assert.Empty(Samples.Read(mended, rows, today: "2026-07-01").UnitQuestions(usual));
    }

    [Fact]
    public void A_unit_the_answer_declares_is_not_asked_about_but_its_scale_is()
    {
        var daily = FeedPresets.Find("open-meteo-daily")!;
        var declared = Encoding.UTF8.GetBytes(File.ReadAllText(Samples.PathOf("open-meteo-daily.json")));
        var question = Samples.Read(daily, declared).UnitQuestions(new SiteUsual([-10, -10, -10], [])).Single();
        Assert.DoesNotContain(question.Fits, fit => fit.Place.EndsWith("/code", StringComparison.Ordinal));
    }

    [Fact]
    public void Few_days_raise_no_question()
    {
        Assert.Empty(Read(Days(52, 52)).UnitQuestions(new SiteUsual([11, 11, 11], WetWeeks)));
        Assert.Empty(Read(Days(52, 52, 52)).UnitQuestions(new SiteUsual([11, 11], [])));
        // Two wet days, however small, are a dry week.
        Assert.Empty(Read(Rows([(20, 0.1), (20, 0.05), (20, 0), (20, 0)])).UnitQuestions(new SiteUsual([20, 20, 20], WetWeeks)));
    }

    // A window of days is read with each wrong unit and held against the days before it or against the same weeks of the other
    // years. Weather: Seattle and New York, 2012-2015, the daily files beside the model's checks.
    // Measured with a window every five days: a right feed is questioned in 0 to 0.4 of a hundred windows; °F and kelvin are
    // always caught, tenths of °C in 98 to 99 of a hundred, rain as beside each case (inches as mm and mm as inches; tenths of
    // mm and cm as mm). The rest are dry weeks, of which nobody can tell.
    [Theory]
    [InlineData(7, 14, 0.15, 0.08)] // 25 and 14 of a hundred
    [InlineData(14, 14, 0.30, 0.15)] // 41 and 26
    [InlineData(16, 14, 0.33, 0.18)] // 44 and 28
    [InlineData(7, 30, 0.28, 0.14)] // 38 and 23
    [InlineData(14, 30, 0.55, 0.33)] // 67 and 44
    [InlineData(16, 30, 0.60, 0.36)] // 71 and 48
    [InlineData(7, 0, 0.33, 0.17)] // 43 and 26
    [InlineData(14, 0, 0.65, 0.40)] // 76 and 54
    [InlineData(16, 0, 0.70, 0.48)] // 80 and 60
    public void Right_feeds_are_hardly_ever_questioned_and_wrong_ones_often_caught(int window, int before, double leastInches, double leastTens)
    {
        var counts = new Dictionary<string, (int Caught, int All)>();
        foreach (var (usual, days) in Windows(window, before))
        {
            Count("right", days, usual, day => day);
            Count("°F as °C", days, usual, day => (Math.Round((day.Tmax * 1.8) + 32), day.Rain));
            Count("tenths °C as °C", days, usual, day => (Math.Round(day.Tmax * 10), day.Rain));
            Count("K as °C", days, usual, day => (day.Tmax + 273.15, day.Rain));
            Count("inches as mm", days, usual, day => (day.Tmax, Math.Round(day.Rain / 25.4, 2)));
            Count("mm as inches", days, usual, day => day, "[in_i]");
            Count("tenths mm as mm", days, usual, day => (day.Tmax, Math.Round(day.Rain * 10)));
            Count("cm as mm", days, usual, day => (day.Tmax, Math.Round(day.Rain / 10, 2)));
        }
        var shares = counts.ToDictionary(one => one.Key, one => (double)one.Value.Caught / one.Value.All);
        Assert.InRange(shares["right"], 0, 0.01);
        Assert.InRange(Math.Min(shares["°F as °C"], shares["K as °C"]), 0.99, 1);
        Assert.InRange(shares["tenths °C as °C"], 0.94, 1);
        Assert.InRange(Math.Min(shares["inches as mm"], shares["mm as inches"]), leastInches, 1);
        Assert.InRange(Math.Min(shares["tenths mm as mm"], shares["cm as mm"]), leastTens, 1);

        void Count(string what, (double Tmax, double Rain)[] days, SiteUsual usual, Func<(double Tmax, double Rain), (double, double)> wrong, string code = "mm")
        {
            var (caught, all) = counts.GetValueOrDefault(what);
            counts[what] = (caught + (IsHeld(Rows(days.Select(wrong)), usual, code) ? 1 : 0), all + 1);
        }
    }

    private static bool IsHeld(byte[] rows, SiteUsual usual, string rainCode)
    {
        try
        {
            return Read(rows, rainCode: rainCode).UnitQuestions(usual).Count > 0;
        }
        catch (FeedException refusal)
        {
            Assert.Equal(FeedCodes.SuspectUnits, refusal.Code);
            return true;
        }
    }

    private static IEnumerable<(SiteUsual Usual, (double Tmax, double Rain)[] Days)> Windows(int window, int before)
    {
        foreach (var city in File.ReadLines(Samples.PathOf("../Checks/daily-2012-2015.csv")).Skip(1).Select(line => line.Split(',')).GroupBy(row => row[0]))
        {
            var all = city.Select(row => (Tmax: Number(row[3]), Rain: Number(row[2]))).ToArray();
            for (var i = 60; i + window <= all.Length; i += 13)
            {
                var usual = before > 0 ? all[(i - before)..i] : [.. SameWeeksOfOtherYears(all, i, window)];
                yield return (new SiteUsual([.. usual.Select(day => day.Tmax)], [.. usual.Select(day => day.Rain)]), all[i..(i + window)]);
            }
        }

        static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
    }

    private static IEnumerable<(double Tmax, double Rain)> SameWeeksOfOtherYears((double Tmax, double Rain)[] all, int at, int window) =>
        Enumerable.Range(-4, 9).Where(year => year != 0)
            .SelectMany(year => Enumerable.Range(at + (365 * year) - 15, window + 30))
            .Where(day => day >= 0 && day < all.Length).Select(day => all[day]);

    private static FeedReading Read(byte[] rows, double scale = 1, string rainCode = "mm") => Samples.Read(
        Feeds.Changed("station-daily-csv", json =>
        {
            json["series"]!["tmax"]!["scale"] = scale;
            json["series"]!["rain"]!["unit"]!["code"] = rainCode;
        }),
        rows,
        today: "2026-07-01");

    private static byte[] Days(params double[] tmax) => Rows(tmax.Select(one => (one, 0.0)));

    private static byte[] Rows(IEnumerable<(double Tmax, double Rain)> days) => Encoding.UTF8.GetBytes(
        "date,tmax_c,tmin_c,rain_mm\n" + string.Join('\n', days.Select((day, i) => string.Create(
            CultureInfo.InvariantCulture, $"{LocalDatePattern.Iso.Format(new LocalDate(2026, 5, 1).PlusDays(i))},{day.Tmax:R},,{day.Rain:R}"))));
}
