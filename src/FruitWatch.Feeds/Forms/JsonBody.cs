using System.Globalization;
using System.Text.Json;
using FruitWatch.Feeds.Describing;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Feeds.Forms;

/// <summary>What every JSON answer must pass, whatever its form.</summary>
internal static class JsonBody
{
    private const int Deepest = 32;

    /// <exception cref="FeedException">Not well-formed, too deep, a name twice, or the feed reports an error.</exception>
    public static JsonDocument Open(FeedInput input)
    {
        var body = Body.Checked(input.Body);
        Body.CheckUtf8(body.Span);
        Scan(body.Span);
        var document = JsonDocument.Parse(body, new JsonDocumentOptions { MaxDepth = Deepest });
        try
        {
            CheckContent(document.RootElement, input);
            return document;
        }
        catch
        {
            document.Dispose();
            throw;
        }
    }

    /// <summary>What a pointer finds, or a refusal that says what is there instead.</summary>
    public static FeedException NotThere(JsonElement document, JsonPointer pointer, string what)
    {
        var cut = pointer.Text.LastIndexOf('/');
        var parent = cut >= 0 ? JsonPointer.TryParse(pointer.Text[..cut])?.Evaluate(document) : null;
        var beside = parent is { ValueKind: JsonValueKind.Object } found
            ? " There is: " + FailureDescription.Quoted(string.Join(", ", found.EnumerateObject().Select(one => one.Name))) + "."
            : "";
        return new FeedException(
            FeedCodes.Missing,
            $"{what} is not in the answer.{beside}",
            pointer.Text,
            "The feed may have changed: correct the pointer in the description.");
    }

    /// <summary>The time zone an answer names.</summary>
    public static DateTimeZone? ZoneIn(JsonElement document, TimeDescription time)
    {
        if (time.ZoneAt is not { } pointer)
            return null;
        var name = pointer.Evaluate(document) is { } found ? CellText.Of(found) : throw NotThere(document, pointer, "The time zone");
        return DateTimeZoneProviders.Tzdb.GetZoneOrNull(name ?? "")
            ?? throw new FeedException(
                FeedCodes.TimeNoZone,
                $"\"{FailureDescription.Quoted(name ?? "")}\" is not a time zone.",
                pointer.Text,
                "Name the zone in the description instead.");
    }

    /// <summary>The unit a series has in this answer: the one it declares, or else the one described.</summary>
    public static (Unit Unit, bool Declared) UnitIn(JsonElement document, SeriesDescription series, string suffix, FeedInput input)
    {
        if (series.UnitDeclaredAt is not { } pointer)
            return (series.Unit, false);
        var at = pointer.WithSuffix(suffix).Evaluate(document) is null ? pointer : pointer.WithSuffix(suffix);
        if (at.Evaluate(document) is not { ValueKind: JsonValueKind.String } text)
        {
            input.Notes.Add(
                FeedCodes.UnitUndeclared,
                series.Name,
                $"The unit of {series.Name} is no longer declared; it was taken as {series.Unit.Code}.",
                pointer.Text);
            return (series.Unit, false);
        }
        var declared = text.GetString()!;
        var quoted = FailureDescription.Quoted(declared);
        var unit = Unit.Declared(declared.Trim()) ?? throw new FeedException(FeedCodes.UnitUnknown,
            $"The feed gives {series.Name} in \"{quoted}\", a unit that is not known here.", at.Text, "Ask the feed for one of the units of docs/feeds.md, in the request's address.");
        if (unit.Quantity != series.Unit.Quantity)
            throw new FeedException(
                FeedCodes.UnitWrongQuantity,
                $"The feed gives {series.Name} in \"{quoted}\", which cannot be turned into {series.Unit.Code}.",
                at.Text,
                "Point the series at another field, or correct the request's address.");
        if (unit != series.Unit)
            input.Notes.Add(
                FeedCodes.UnitChanged,
                series.Name,
                $"The feed gives {series.Name} in \"{quoted}\" and not in {series.Unit.Code}; converted.",
                at.Text);
        return (unit, true);
    }

    private static void CheckContent(JsonElement root, FeedInput input)
    {
        var (failure, expect) = (input.Description.Failure, input.Description.Expect);
        if (failure?.ReasonIn(root) is { } reason)
            throw new FeedException(
                FeedCodes.ReportedError,
                $"The feed reports an error: \"{reason}\".",
                failure.FlagAt.Text,
                "Correct what it names in the request, or wait if it speaks of load.");
        foreach (var pointer in expect.Present.Where(pointer => pointer.Evaluate(root) is null))
            throw NotThere(root, pointer, "Something the description expects");
        CheckFreshness(root, expect, input);
        if (expect.ReturnedAt?.Evaluate(root) is { ValueKind: JsonValueKind.Number } returned
            && expect.MatchedAt?.Evaluate(root) is { ValueKind: JsonValueKind.Number } matched
            && returned.TryGetDouble(out var here) && matched.TryGetDouble(out var all) && here < all)
            input.Notes.Add(
                FeedCodes.MorePages,
                "pages",
                string.Create(CultureInfo.InvariantCulture, $"Only {here} of {all} records came; the rest is on further pages."),
                expect.ReturnedAt.Text);
    }

    private static void CheckFreshness(JsonElement root, ExpectDescription expect, FeedInput input)
    {
        if (expect.FreshAt is not { } pointer)
            return;
        var text = pointer.Evaluate(root) is { } found ? CellText.Of(found) : throw NotThere(root, pointer, "The time of its making");
        if (OffsetDateTimePattern.ExtendedIso.Parse(text ?? "") is not { Success: true, Value: var made })
            throw new FeedException(
                FeedCodes.TimeUnparseable,
                $"\"{FailureDescription.Quoted(text ?? "")}\" is not a time with an offset.",
                pointer.Text,
                "Point expect.freshness at a time such as 2026-05-14T06:00:00+00:00.");
        if (input.ReceivedAt - made.ToInstant() > expect.MaxAge)
            throw new FeedException(
                FeedCodes.TimeStale,
                $"The forecast was made at {OffsetDateTimePattern.ExtendedIso.Format(made)}, too long ago.",
                pointer.Text,
                "The last good one is kept; the feed will be asked again.");
    }

    private static void Scan(ReadOnlySpan<byte> body)
    {
        var reader = new Utf8JsonReader(body, new JsonReaderOptions { MaxDepth = Deepest * 2 });
        var names = new Stack<HashSet<string>>();
        try
        {
            while (reader.Read())
            {
                if (reader.CurrentDepth >= Deepest)
                    throw new FeedException(
                        FeedCodes.TooDeep,
                        $"The answer is nested more than {Deepest} levels deep.",
                        Body.PlaceOf(body, (int)reader.TokenStartIndex),
                        "No weather answer is: look at what the address gives.");
                if (reader.TokenType == JsonTokenType.StartObject)
                    names.Push([]);
                else if (reader.TokenType == JsonTokenType.EndObject)
                    names.Pop();
                else if (reader.TokenType == JsonTokenType.PropertyName && !names.Peek().Add(reader.GetString()!))
                    throw new FeedException(
                        FeedCodes.DuplicateKey,
                        $"\"{FailureDescription.Quoted(reader.GetString()!)}\" is named twice in one object, and nobody can say which is meant.",
                        Body.PlaceOf(body, (int)reader.TokenStartIndex),
                        "Tell the provider, or use another feed.");
            }
        }
        catch (Exception fault) when (fault is JsonException or InvalidOperationException)
        {
            var place = fault is JsonException { LineNumber: { } line } json
                ? $"line {line + 1}, byte {json.BytePositionInLine + 1}"
                : Body.PlaceOf(body, (int)reader.TokenStartIndex);
            throw new FeedException(
                FeedCodes.InvalidJson,
                "The answer is not well-formed JSON; it was cut short, or text was added to it.",
                place,
                "It will be asked for again; if it stays so, look at the answer there.",
                fault);
        }
    }
}
