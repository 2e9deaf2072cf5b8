using System.Globalization;
using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Operating.Accounts;
using NodaTime;
using Words = FruitWatch.Service.Text.Words;

namespace FruitWatch.Service.Operating;

/// <summary>The command <c>feed</c>: the shipped descriptions, a description checked, an answer looked at, all without the service.</summary>
internal static class FeedVerb
{
    public static readonly string[] Known =
        ["preset", "description", "latitude", "longitude", "zone", "elevation", "station", "key-file", "body", "local-station", "today", "contact"];

    /// <summary>Lists the shipped descriptions, or shows one of them to start from.</summary>
    public static void Presets(VerbOptions options, TextWriter output)
    {
        if (options.Optional("show") is { } id)
        {
            output.WriteLine(Preset("--show", id).Json.TrimEnd());
            return;
        }

        foreach (var group in FeedPurposes.All)
        {
            output.WriteLine(Words.For("en").NameOf(group.Key));
            foreach (var preset in group)
                output.WriteLine($"  {preset.Id,-22} {Words.For("en").FeedsPresetSaid(preset.Id) ?? preset.Title}");
        }
    }

    /// <summary>Checks a description and tells everything that is wrong with it, each with its pointer and line.</summary>
    public static void Check(string file, VerbOptions options, TextWriter output)
    {
        var description = Described(file, Stations(options));
        output.WriteLine($"{file}: a description of {description.Title}; nothing is wrong with it.");
    }

    /// <summary>Reads an answer, one that is asked for now or one that was saved, and prints the days.</summary>
    public static async Task PreviewAsync(VerbOptions options, TextWriter output, IClock clock, CancellationToken stop = default)
    {
        var stations = Stations(options);
        var description = (options.Optional("preset"), options.Optional("description")) switch
        {
            ({ } id, null) => Preset("--preset", id),
            (null, { } file) => Described(file, stations),
            _ => throw new VerbException("Name either --preset ID or --description FILE."),
        };
        var place = Place(options);
        var now = clock.GetCurrentInstant();
        var today = Today(options) ?? now.InZone(place.Zone).Date;
        try
        {
            var fetched = await FetchAsync(description, place, today, options, stations, clock, stop);
            var body = fetched.Body;
            if (options.Optional("body") is null)
                await output.WriteLineAsync($"asked: {fetched.Url}");
            await output.WriteLineAsync(string.Create(CultureInfo.InvariantCulture, $"answer: {fetched.MediaType}, {body.Length} bytes"));
            var reading = FeedReader.Read(description, body, place, today, fetched.FetchedAt, Start(description, today), explain: true);
            FeedTable.Write(output, reading, fetched.Notes);
            FeedTable.WritePlace(output, AnswerPlace.Of(body), place);
            foreach (var caveat in description.Caveats)
                await output.WriteLineAsync($"good to know: {caveat}");
            var credit = description.Attribution;
            await output.WriteLineAsync($"credit: {string.Join("; ", new[] { credit.Text, credit.Url, credit.Licence, credit.Note }.OfType<string>())}");
        }
        catch (FeedException refusal)
        {
            throw new VerbException($"{refusal.Code}: {refusal.Sentence}\n  where: {refusal.Place}\n  what to do: {refusal.Mend}{Head(refusal.Evidence)}");
        }
    }

    private static async Task<FetchedFeed> FetchAsync(
        FeedDescription description, FeedSite place, LocalDate today, VerbOptions options, IReadOnlySet<string> stations, IClock clock, CancellationToken stop)
    {
        var body = options.Optional("body");
        if (body is not null && !description.IsUpload)
            return new FetchedFeed(InputFile.ReadAllBytes(body), "a saved answer", CameAt(options, place, clock), Path.GetFileName(body));
        var services = new ServiceCollection().AddSingleton(clock);
        services.AddFruitWatchFeeds(new FeedClientOptions
        {
            UserAgent = $"FruitWatch/{typeof(FeedVerb).Assembly.GetName().Version?.ToString(3)} ({Contact(description, options)})",
            LocalStations = stations,
        });
        await using var provider = services.BuildServiceProvider();
        var request = new FeedRequest(today)
        {
            Start = Start(description, today),
            UploadPath = body,
            Key = options.Optional("key-file") is { } file ? InputFile.ReadAllText(file).Trim() : null,
        };
        return await provider.GetRequiredService<FeedClient>().FetchAsync(description, place, request, stop);
    }

    /// <summary>A saved answer that is looked at as of some day is taken to have come at that day's noon.</summary>
    private static Instant CameAt(VerbOptions options, FeedSite place, IClock clock) =>
        Today(options) is { } day ? day.At(LocalTime.Noon).InZoneLeniently(place.Zone).ToInstant() : clock.GetCurrentInstant();

    /// <summary>Providers want to reach whoever asks them, and refuse or ban those who do not say.</summary>
    private static string Contact(FeedDescription description, VerbOptions options) =>
        options.Optional("contact") ?? Environment.GetEnvironmentVariable("FruitWatch__Contact")
        ?? (description.IsUpload
            ? "reading a file"
            : throw new VerbException("--contact is missing: a mail address or page by which the provider can reach you. It is sent with the request."));

    /// <summary>A history is asked for a month; whole files are read whole.</summary>
    private static LocalDate? Start(FeedDescription description, LocalDate today) =>
        description.Provides == FeedProvides.History && DescriptionText.AsksByDay(description.Json) ? today.PlusDays(-TrialReader.HistoryDays) : null;

    private static FeedDescription Described(string file, IReadOnlySet<string> stations)
    {
        var json = InputFile.ReadAllText(file);
        try
        {
            return FeedDescription.Parse(json, stations);
        }
        catch (FeedDescriptionException wrong)
        {
            throw new VerbException(string.Join('\n', wrong.Problems.Select(problem => FormattableString.Invariant(
                $"{file}:{DescriptionText.LineOf(json, problem.Place)}: {(problem.Place.Length == 0 ? "/" : problem.Place)}: {problem.What} {problem.Mend}"))));
        }
    }

    private static FeedDescription Preset(string option, string id) => FeedPresets.Find(id)
        ?? throw new VerbException($"{option}: there is no preset '{id}'; expected one of {string.Join(", ", FeedPresets.All.Select(preset => preset.Id))}.");

    private static FeedSite Place(VerbOptions options)
    {
        var zone = options.Required("zone");
        return new FeedSite(
            Number(options, "latitude", -90, 90) ?? throw new VerbException("--latitude is missing."),
            Number(options, "longitude", -180, 180) ?? throw new VerbException("--longitude is missing."),
            Number(options, "elevation", -430, 9000),
            DateTimeZoneProviders.Tzdb.GetZoneOrNull(zone) ?? throw new VerbException($"--zone: '{zone}' is not a time zone; expected an IANA name such as Europe/Madrid."))
        { Station = options.Optional("station") };
    }

    private static LocalDate? Today(VerbOptions options)
    {
        if (options.Optional("today") is not { } text)
            return null;
        return NodaTime.Text.LocalDatePattern.Iso.Parse(text).TryGetValue(default, out var day)
            ? day
            : throw new VerbException($"--today: '{text}'; expected a day such as 2026-05-31.");
    }

    private static double? Number(VerbOptions options, string name, double low, double high)
    {
        if (options.Optional(name) is not { } text)
            return null;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && value >= low && value <= high
            ? value
            : throw new VerbException(string.Create(CultureInfo.InvariantCulture, $"--{name}: '{text}'; expected a number from {low} to {high}, with a decimal point."));
    }

    private static HashSet<string> Stations(VerbOptions options) => options.Optional("local-station") is { } station ? [station] : [];

    private static string Head(FeedEvidence? evidence) => evidence?.Head is { } head ? $"\n  it begins: {FeedTable.OneLine(head, 200)}" : "";
}
