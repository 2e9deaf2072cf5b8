using System.ComponentModel;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Web;
using NodaTime;

namespace FruitWatch.Service.Feeds;

/// <summary>A trial as it is made.</summary>
[Description("A description of a feed to be tried for a site: that of a preset, one of your own, or that of a feed which is to be changed.")]
internal sealed record TrialMade(
    [property: Description("Key of the site whose place and days it is tried for.")] long SiteId,
    [property: Description("Id of a shipped description to start from.")] string? PresetId,
    [property: Description("A description in the language weather-feed/1: the object itself, or its text. With feedId: what that feed is to become.")] JsonElement? Description,
    [property: Description("Key of the feed that is to be changed; its last answer is taken over, and nothing is asked.")] long? FeedId,
    [property: Description("What the feed is to be called; the description's own title where left out.")] string? Title,
    [property: Description("The station in the feed's own list, for feeds asked by station.")] string? Station,
    [property: Description("The provider's key. It is never given back.")] string? Key) : IReadBody<TrialMade>
{
    /// <summary>A description lies one step down, and is itself some seven deep.</summary>
    public static int MostDepth => 16;

    [System.Text.Json.Serialization.JsonIgnore]
    public string? DescriptionText { get; init; }

    public static TrialMade Read(JsonFields fields)
    {
        var made = new TrialMade(
            fields.Id("siteId", required: true) ?? 0,
            fields.Text("presetId", 64),
            null,
            fields.Id("feedId"),
            fields.Text("title", 120),
            fields.Text("station", 64),
            fields.Text("key", 512))
        { DescriptionText = fields.JsonText("description") };
        if (made.PresetId is null && made.DescriptionText is null && made.FeedId is null)
            fields.Refuse("presetId", "Name a preset, a feed, or give a description.");
        if (made.PresetId is not null && (made.DescriptionText is not null || made.FeedId is not null))
            fields.Refuse("presetId", "Name a preset, or something else; not both.");
        return made;
    }

    /// <inheritdoc/>
    public override string ToString() => Title ?? PresetId ?? ""; // Not the key: a record is easily logged whole.
}

/// <summary>A change of a trial.</summary>
[Description("What is to be tried instead, on the answer that is there. What is left out stays.")]
internal sealed record TrialChanged(
    [property: Description("A description in the language weather-feed/1: the object itself, or its text.")] JsonElement? Description,
    [property: Description("What the feed is to be called.")] string? Title,
    [property: Description("The station in the feed's own list.")] string? Station,
    [property: Description("The provider's key. It is never given back.")] string? Key) : IReadBody<TrialChanged>
{
    /// <inheritdoc cref="TrialMade.MostDepth"/>
    public static int MostDepth => 16;

    [System.Text.Json.Serialization.JsonIgnore]
    public string? DescriptionText { get; init; }

    public static TrialChanged Read(JsonFields fields) =>
        new(null, fields.Text("title", 120), fields.Text("station", 64), fields.Text("key", 512)) { DescriptionText = fields.JsonText("description") };

    /// <inheritdoc/>
    public override string ToString() => Title ?? "";
}

/// <summary>A trial as the API gives it.</summary>
[Description("What a description makes of a feed's answer, before either counts. Kept for a day. Texts from the feed stand in it as they came: escape them wherever they are shown.")]
internal sealed record TrialBody(
    [property: Description("Key of the trial.")] Guid Id,
    [property: Description("The feed that is being changed; null for a new one.")] long? FeedId,
    [property: Description("The site.")] long SiteId,
    [property: Description("What the feed is to be called.")] string Title,
    [property: Description("The station asked about.")] string? Station,
    [property: Description("Whether a provider's key is kept with it.")] bool HasKey,
    [property: Description("The description that is tried.")] JsonElement Description,
    [property: Description("May be saved as it is, once its question is answered.")] bool Good,
    [property: Description("What is still to be given: key, station, file.")] IReadOnlyList<string> Needs,
    [property: Description("What was asked, without the key, or the name of the file; null while nothing was.")] string? Asked,
    [property: Description("When the answer came.")] Instant? FetchedAt,
    [property: Description("The answer came for this very request; false: the one that was kept was read again.")] bool JustAsked,
    [property: Description("The description now asks for something else than what was answered: ask again before it is saved.")] bool RequestChanged,
    [property: Description("The key was dropped, because the description sends it to another host than the one it was given for.")] bool KeyDropped,
    [property: Description("Content type of the answer.")] string? MediaType,
    [property: Description("Length of the answer, unpacked.")] int? Bytes,
    [property: Description("Days understood.")] int DaysFound,
    [property: Description("First of them.")] LocalDate? FirstDay,
    [property: Description("Last of them.")] LocalDate? LastDay,
    [property: Description("Members of an ensemble.")] int Members,
    [property: Description("The days ahead, and the last thirty gone by.")] IReadOnlyList<TrialDayBody> Days,
    [property: Description("Stretches without any value between the first day and the last.")] IReadOnlyList<TrialGapBody> Gaps,
    [property: Description("What was odd in the answer, and what was done with it.")] IReadOnlyList<TrialNoteBody> Notes,
    [property: Description("What may be about another place than the site.")] IReadOnlyList<TrialWarningBody> Warnings,
    [property: Description("A doubt about a unit; null for none. Mend the description, or confirm the units when it is saved.")] TrialQuestionBody? Question,
    [property: Description("What the description's author wants you to know.")] IReadOnlyList<string> Caveats,
    [property: Description("What must be shown beside the data.")] AttributionBody Attribution,
    [property: Description("The beginning of the answer, at most 2048 characters, secrets taken out.")] string? Head,
    [property: Description("Why there are no days; null where there are, or where nobody has asked.")] TrialRefusalBody? Refusal)
{
    public static TrialBody Of(TrialSeen seen) => new(
        seen.Draft.Id,
        seen.Draft.FeedId,
        seen.Draft.SiteId,
        seen.Draft.Title,
        seen.Draft.Station,
        seen.Draft.SealedKey is not null,
        JsonDocument.Parse(seen.Draft.Description).RootElement,
        seen.Good,
        [.. new[] { (seen.NeedsKey, "key"), (seen.NeedsStation, "station"), (seen.NeedsFile, "file") }.Where(need => need.Item1).Select(need => need.Item2)],
        seen.Draft.Asked,
        seen.Draft.FetchedAt,
        seen.JustAsked,
        seen.RequestChanged,
        seen.KeyDropped,
        seen.Draft.MediaType,
        seen.Length,
        seen.Days.Count,
        seen.Days.Count > 0 ? seen.Days[0].Date : null,
        seen.Days.Count > 0 ? seen.Days[^1].Date : null,
        seen.Reading?.Members.Count ?? 0,
        [.. seen.Shown.Select(TrialDayBody.Of)],
        [.. seen.Gaps.Select(gap => new TrialGapBody(gap.First, gap.Last))],
        [.. seen.TransferNotes.Concat(seen.Reading?.Notes ?? []).Select(note => new TrialNoteBody(note.Code, note.Sentence, note.Place, note.Count))],
        [.. seen.Warnings.Select(warning => new TrialWarningBody(warning.Code, Words.For("en").FeedsWarning(warning)))],
        seen.Question is { } question ? TrialQuestionBody.Of(question, seen.Draft.Description) : null,
        seen.Description.Caveats,
        AttributionBody.Of(seen.Description.Attribution),
        seen.Head ?? seen.Refusal?.Evidence?.Head,
        seen.Refusal is { } refusal ? TrialRefusalBody.Of(refusal) : null);
}

/// <summary>A day as it was understood.</summary>
[Description("A local day as it was understood. What is null is unknown, and never zero.")]
internal sealed record TrialDayBody(
    [property: Description("The site's local day.")] LocalDate Date,
    [property: Description("Measured or forecast.")] Provenance From,
    [property: Description("Highest air temperature, in degrees Celsius.")] TrialValueBody? TmaxC,
    [property: Description("Lowest air temperature, in degrees Celsius.")] TrialValueBody? TminC,
    [property: Description("Mean air temperature, in degrees Celsius.")] TrialValueBody? TmeanC,
    [property: Description("Rain and melted snow, in millimetres.")] TrialValueBody? RainMm,
    [property: Description("Mean relative humidity, in per cent.")] TrialValueBody? HumidityPercent)
{
    public static TrialDayBody Of(TrialDay day) => new(
        day.Date,
        day.From,
        TrialValueBody.Of(day.Tmax),
        TrialValueBody.Of(day.Tmin),
        TrialValueBody.Of(day.Tmean),
        TrialValueBody.Of(day.Rain),
        TrialValueBody.Of(day.Humidity));
}

/// <summary>A value of a day with what it was made from.</summary>
[Description("A value of a day, and what the answer had for it.")]
internal sealed record TrialValueBody(
    [property: Description("In the unit of the field's name; of an ensemble the middle of its members.")] double Value,
    [property: Description("Lowest member.")] double? Low,
    [property: Description("Highest member.")] double? High,
    [property: Description("Part of the day that it stands for, 0 to 1.")] double Coverage,
    [property: Description("Whether that is enough to count. An incomplete rain is a lower bound; an incomplete extreme says nothing.")] bool Complete,
    [property: Description("What the answer had, at most a hundred.")] IReadOnlyList<TrialRawBody> Raw)
{
    public static TrialValueBody? Of(TrialValue? value) => value is null ? null : new(
        value.Value,
        value.Low,
        value.High,
        value.Coverage,
        value.Complete,
        [.. value.Raw.Select(raw => new TrialRawBody(raw.Text, raw.Unit, raw.Scale, raw.Time, raw.Place))]);
}

/// <summary>A number as the answer had it.</summary>
[Description("A number as the answer had it.")]
internal sealed record TrialRawBody(
    [property: Description("As written there. Foreign text.")] string Text,
    [property: Description("Code of the unit it was read in.")] string Unit,
    [property: Description("What it was multiplied by before.")] double Scale,
    [property: Description("Its time, as written there. Foreign text.")] string Time,
    [property: Description("Where it stands: a JSON pointer into the answer, or a line and column.")] string Place);

/// <summary>Days without any value.</summary>
[Description("Days without any value.")]
internal sealed record TrialGapBody(
    [property: Description("First of them.")] LocalDate First, [property: Description("Last of them.")] LocalDate Last);

/// <summary>Something odd in an answer that was used.</summary>
[Description("Something odd in an answer that was used.")]
internal sealed record TrialNoteBody(
    [property: Description("Stable code; docs/feeds.md explains each.")] string Code,
    [property: Description("What was read and what became of it.")] string Sentence,
    [property: Description("Where it was met first.")] string Place,
    [property: Description("How often.")] int Count);

/// <summary>What may be about another place.</summary>
[Description("What may be about another place than the site.")]
internal sealed record TrialWarningBody(
    [property: Description("place.far or place.height.")] string Code, [property: Description("In words.")] string Sentence);

/// <summary>A doubt about a unit.</summary>
[Description("A doubt about a unit. To mend it, send mended as the description.")]
internal sealed record TrialQuestionBody(
    [property: Description("In words.")] string Text,
    [property: Description("What the values would be read as if they are to fit; null where nothing fits.")] string? Fits,
    [property: Description("JSON pointer into the description; null where nothing fits.")] string? Pointer,
    [property: Description("What to write there; null where nothing fits.")] JsonElement? Value,
    [property: Description("The description with that written there and in the other series of the same unit, to be tried; null where nothing fits.")] JsonElement? Mended)
{
    public static TrialQuestionBody Of(FeedQuestion question, string description)
    {
        var mended = question is { Pointer: { } pointer, Value: { } value } ? Feeds.DescriptionText.Mended(description, pointer, value) : null;
        return new TrialQuestionBody(question.Text, question.Fits, question.Pointer, Parsed(question.Value), Parsed(mended));
    }

    private static JsonElement? Parsed(string? json) => json is null ? null : JsonDocument.Parse(json).RootElement;
}

/// <summary>Why a trial gave no days.</summary>
[Description("Why there are no days: what was wrong, where, and what to do.")]
internal sealed record TrialRefusalBody(
    [property: Description("Stable code; docs/feeds.md explains each.")] string Code,
    [property: Description("What was wrong.")] string Sentence,
    [property: Description("Where.")] string Place,
    [property: Description("What to do.")] string Mend,
    [property: Description("HTTP status, where a server gave one.")] int? Status,
    [property: Description("How long to leave the host alone, in seconds.")] double? RetryAfterS,
    [property: Description("Content type of the refused answer.")] string? MediaType,
    [property: Description("Its length, as far as it is known.")] long? Bytes,
    [property: Description("SHA-256 of it, where it came whole.")] string? Sha256)
{
    public static TrialRefusalBody Of(TrialRefusal refusal) => new(
        refusal.Code,
        refusal.Sentence,
        refusal.Place,
        refusal.Mend,
        refusal.Status,
        refusal.RetryAfter?.TotalSeconds,
        refusal.Evidence?.MediaType,
        refusal.Evidence?.Bytes,
        refusal.Evidence?.Sha256);
}

/// <summary>What a provider asks to be shown.</summary>
[Description("What must be shown beside the data.")]
internal sealed record AttributionBody(
    [property: Description("The credit.")] string Text,
    [property: Description("Where it leads.")] string? Url,
    [property: Description("Licence of the data.")] string? Licence,
    [property: Description("Conditions worth reading before use.")] string? Note)
{
    public static AttributionBody Of(FeedAttribution credit) => new(credit.Text, credit.Url, credit.Licence, credit.Note);
}
