using FruitWatch.Feeds;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>Reads a draft's answer with its description, as of the moment when the answer came. Asks nobody.</summary>
internal sealed class TrialReader(FeedClient client, FeedKeys keys, ServiceOptions options)
{
    /// <summary>Days that a history is asked for: enough for a look.</summary>
    public const int HistoryDays = 30;

    /// <summary>Of longer answers the raw values are not shown: they would be many times as long as the answer.</summary>
    private const int LongestExplained = 4 * 1024 * 1024;

    private const int MostRaw = 100;

    public static FeedSite PlaceOf(FeedDraft draft, Site site) =>
        new(site.Latitude, site.Longitude, site.Elevation, DateTimeZoneProviders.Tzdb[site.ZoneId]) { Station = draft.Station ?? site.Station };

    public static LocalDate DayOf(Instant moment, Site site) => moment.InZone(DateTimeZoneProviders.Tzdb[site.ZoneId]).Date;

    /// <summary>A forecast is asked for its usual range, a history for a month and not for its decades.</summary>
    public static FeedRequest RequestOf(FeedDraft draft, LocalDate today) => new(today) { Start = Start(draft, today) };

    /// <summary>What a description would ask for at the draft's place and day, without the key; null where something is missing for that.</summary>
    public FeedAddressed? AddressOf(FeedDraft draft, Site site, string json)
    {
        try
        {
            // Only the rest of the address is looked at; which hosts may be asked was looked at when the text was taken.
            var description = FeedDescription.Parse(json, options.LocalStationSet);
            var today = DayOf(draft.FetchedAt ?? draft.MadeAt, site);
            return client.AddressOf(description, PlaceOf(draft, site), RequestOf(draft, today) with { Key = "key" });
        }
        catch (Exception error) when (error is FeedException or FeedDescriptionException)
        {
            return null;
        }
    }

    public async Task<TrialSeen> ReadAsync(
        FruitWatchStore store, FeedDraft draft, Site site, FeedDescription description, Feed? changed, CancellationToken stop)
    {
        var seen = new TrialSeen(draft, site, description);
        if (draft is not { Body: { } packed, FetchedAt: { } at })
            return seen;
        var body = PackedAnswer.Unpack(packed);
        var key = keys.Open(draft.SealedKey);
        var answer = new FetchedFeed(body, draft.MediaType ?? "", at, draft.Asked ?? "");
        seen = seen with
        {
            Length = body.Length,
            Head = FeedEvidence.Of(answer, key).Head,
            RequestChanged = IsChanged(draft, site, description, changed),
            Warnings = Warnings(body, site),
        };
        try
        {
            var today = DayOf(at, site);
            var reading = FeedReader.Read(description, body, PlaceOf(draft, site), today, at, Start(draft, today), explain: body.Length <= LongestExplained);
            var days = TrialDays.Of(reading).Select(day => Without(day, key)).ToList();
            return seen with
            {
                Reading = reading,
                Days = days,
                Gaps = TrialDays.Gaps(days),
                Question = await UnitDoubts.AboutAsync(store, AtSite(draft, site, description, changed, today), reading, stop),
            };
        }
        catch (FeedException refusal)
        {
            return seen with { Refusal = TrialRefusal.Of(refusal) with { Evidence = null } };
        }
    }

    private static FeedAtSite AtSite(FeedDraft draft, Site site, FeedDescription description, Feed? changed, LocalDate today) => new(
        site,
        new Feed { Id = changed?.Id ?? 0, Key = description.Id, Title = draft.Title, Description = draft.Description },
        description,
        PlaceOf(draft, site),
        today);

    private static LocalDate? Start(FeedDraft draft, LocalDate today) =>
        DescriptionText.IsHistory(draft.Description) && DescriptionText.AsksByDay(draft.Description) ? today.PlusDays(-HistoryDays) : null;

    private bool IsChanged(FeedDraft draft, Site site, FeedDescription description, Feed? changed)
    {
        if (description.IsUpload)
            return draft.Asked?.Contains("://", StringComparison.Ordinal) == true;
        var now = AddressOf(draft, site, draft.Description)?.Url;
        // Where a step has to be asked first nobody can say without asking.
        if (now is null || now == draft.Asked)
            return now is null && AddressOf(draft, site, draft.Description) is null;
        return changed is null || AddressOf(draft, site, changed.Description)?.Url != now;
    }

    private static List<TrialWarning> Warnings(byte[] body, Site site)
    {
        if (AnswerPlace.Of(body) is not { } place)
            return [];
        var found = new List<TrialWarning>();
        if (place.KmFrom(site.Latitude, site.Longitude) is > AnswerPlace.FarKm and var km)
            found.Add(new TrialWarning(TrialWarning.Far, km, place));
        if (place.Elevation is { } height && Math.Abs(height - site.Elevation) > AnswerPlace.HighMetres)
            found.Add(new TrialWarning(TrialWarning.Height, Math.Abs(height - site.Elevation), place));
        return found;
    }

    private static TrialDay Without(TrialDay day, string? key) => day with
    {
        Tmax = Without(day.Tmax, key),
        Tmin = Without(day.Tmin, key),
        Tmean = Without(day.Tmean, key),
        Rain = Without(day.Rain, key),
        Humidity = Without(day.Humidity, key),
    };

    private static TrialValue? Without(TrialValue? value, string? key)
    {
        if (value is null)
            return null;
        var raw = value.Raw.Take(MostRaw);
        return value with
        {
            Raw = [.. key is null ? raw : raw.Select(one => one with
            {
                Text = one.Text.Replace(key, "{key}", StringComparison.Ordinal),
                Time = one.Time.Replace(key, "{key}", StringComparison.Ordinal),
            })],
        };
    }
}
