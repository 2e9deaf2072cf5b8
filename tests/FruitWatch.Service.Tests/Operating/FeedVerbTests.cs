using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Operating;

public sealed class FeedVerbTests : IDisposable
{
    private readonly string folder = Directory.CreateTempSubdirectory("feed-").FullName;

    public void Dispose() => Directory.Delete(folder, recursive: true);

    [Fact]
    public void All_shipped_descriptions_are_listed_and_each_is_shown_as_it_stands()
    {
        var list = Printed(output => FeedVerb.Presets(VerbOptions.Parse([], "show"), output));
        Assert.All(FeedPresets.All, preset => Assert.Contains($"  {preset.Id} ", list, StringComparison.Ordinal));
        Assert.Equal(FeedPresets.Find("nws-gridpoint")!.Json.TrimEnd() + "\n", Printed(output => FeedVerb.Presets(VerbOptions.Parse(["--show", "nws-gridpoint"], "show"), output)).ReplaceLineEndings("\n"));
        Assert.StartsWith("--show: there is no preset 'x'; expected one of ", Assert.Throws<VerbException>(() => Printed(output => FeedVerb.Presets(VerbOptions.Parse(["--show", "x"], "show"), output))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_description_is_checked_and_every_problem_has_its_line_and_pointer()
    {
        var good = File("good.json", FeedPresets.Find("station-daily-csv")!.Json);
        Assert.Contains("nothing is wrong", Printed(output => FeedVerb.Check(good, VerbOptions.Parse([]), output)), StringComparison.Ordinal);
        var bad = File("bad.json", FeedPresets.Find("station-daily-csv")!.Json.Replace("\"midpoint\"", "\"sideways\"", StringComparison.Ordinal));
        var told = Assert.Throws<VerbException>(() => Printed(output => FeedVerb.Check(bad, VerbOptions.Parse([]), output))).Message.Split('\n');
        Assert.Equal(3, told.Length);
        Assert.Matches("bad.json:[0-9]+: /daily/(tmax|tmin|rain)/assign: ", told[0]);
    }

    [Fact]
    public async Task A_saved_answer_is_read_without_a_network_and_printed_day_by_day()
    {
        var body = File("station.csv", "date,tmax_c,tmin_c,rain_mm\n2026-05-01,17.2,6.1,T\n2026-05-03,,,12.6\n2026-05-04,\u001b[31m,5.0,1\n");
        var lines = await PreviewAsync("--preset", "station-daily-csv", "--body", body);
        Assert.Contains(lines, line => line.StartsWith("2026-05-01  17.2 °C [17.2 °C]", StringComparison.Ordinal) && line.Contains("0.0 mm [T mm]", StringComparison.Ordinal) && line.EndsWith("past", StringComparison.Ordinal));
        Assert.Contains(lines, line => line.StartsWith("2026-05-03  unknown", StringComparison.Ordinal));
        Assert.Contains("gap: 2026-05-02 to 2026-05-02", lines);
        Assert.Contains(lines, line => line.StartsWith("note: value.notNumber", StringComparison.Ordinal));
        Assert.DoesNotContain(lines, line => line.Contains('\u001b', StringComparison.Ordinal));
        Assert.Contains("credit: Own station", lines);
    }

    [Fact]
    public async Task A_saved_forecast_is_looked_at_as_of_its_own_day()
    {
        var body = File("forecast.json", """
            {"properties":{"meta":{"updated_at":"2026-03-01T06:00:00Z"},"timeseries":[
              {"time":"2026-03-01T07:00:00Z","data":{"instant":{"details":{"air_temperature":7.5}},"next_1_hours":{"details":{"precipitation_amount":0.4}}}},
              {"time":"2026-03-01T08:00:00Z","data":{"instant":{"details":{"air_temperature":8.5}},"next_1_hours":{"details":{"precipitation_amount":0.0}}}}]}}
            """);
        string[] call = ["--preset", "met-norway-compact", "--elevation", "20", "--body", body];
        Assert.Contains("time.stale: ", (await Assert.ThrowsAsync<VerbException>(() => PreviewAsync(call))).Message, StringComparison.Ordinal);
        Assert.Contains(await PreviewAsync([.. call, "--today", "2026-03-01"]), line => line.StartsWith("2026-03-01  ", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_refused_answer_is_told_with_code_place_and_what_to_do()
    {
        var page = File("page.html", "<html>sign in</html>");
        var told = (await Assert.ThrowsAsync<VerbException>(() => PreviewAsync("--preset", "open-meteo-hourly", "--body", page))).Message;
        Assert.StartsWith("body.notExpectedType: ", told, StringComparison.Ordinal);
        Assert.Contains("\n  where: ", told, StringComparison.Ordinal);
        Assert.Contains("\n  what to do: ", told, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("Name either --preset ID or --description FILE.")]
    [InlineData("Name either --preset ID or --description FILE.", "--preset", "open-meteo-hourly", "--description", "x.json")]
    [InlineData("--preset: there is no preset 'x'", "--preset", "x")]
    [InlineData("x.json: cannot be read", "--description", "x.json")]
    [InlineData("--contact is missing: ", "--preset", "open-meteo-hourly")]
    [InlineData("--today: 'soon'", "--preset", "open-meteo-hourly", "--today", "soon")]
    public async Task A_wrong_call_is_refused_with_what_would_do(string message, params string[] args) =>
        Assert.StartsWith(message, (await Assert.ThrowsAsync<VerbException>(() => PreviewAsync(args))).Message, StringComparison.Ordinal);

    [Theory]
    [InlineData(0, "feed", "presets")]
    [InlineData(1, "feed", "presets", "--show", "nothing")]
    [InlineData(1, "feed", "check", "no-such-file.json")]
    [InlineData(2, "feed")]
    [InlineData(2, "feed", "check")]
    public async Task The_exit_code_tells_done_refused_or_a_wrong_call(int code, params string[] args) => Assert.Equal(code, await Verbs.RunAsync(args));

    private static async Task<string[]> PreviewAsync(params string[] args)
    {
        await using var output = new StringWriter();
        var options = VerbOptions.Parse([.. args, "--latitude", "43.2", "--longitude", "-3.1", "--zone", "Europe/Madrid"], FeedVerb.Known);
        await FeedVerb.PreviewAsync(options, output, new FakeClock(Instant.FromUtc(2026, 5, 12, 6, 0)), TestContext.Current.CancellationToken);
        return output.ToString().ReplaceLineEndings("\n").Split('\n');
    }

    private string File(string name, string text)
    {
        var path = Path.Combine(folder, name);
        System.IO.File.WriteAllText(path, text);
        return path;
    }

    private static string Printed(Action<TextWriter> run)
    {
        using var output = new StringWriter();
        run(output);
        return output.ToString();
    }
}
