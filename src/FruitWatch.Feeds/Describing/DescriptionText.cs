using System.Buffers;
using System.Globalization;
using System.Text;
using System.Text.Json;
using NodaTime;

namespace FruitWatch.Feeds.Describing;

/// <summary>
/// Writes a description as it was understood: members in the order of docs/feeds.md, units by their codes, and what was left
/// out with the value it has all the same. How a feed is asked is kept as it was written, in the same order.
/// </summary>
internal sealed class DescriptionText
{
    private static readonly JsonWriterOptions Layout = new()
    {
        Indented = true,
        NewLine = "\n",
        Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping, // °C stays readable; pages escape what they show.
    };

    private readonly Utf8JsonWriter json;

    private DescriptionText(Utf8JsonWriter json) => this.json = json;

    public static string Of(FeedDescription description)
    {
        var buffer = new ArrayBufferWriter<byte>();
        using (var writer = new Utf8JsonWriter(buffer, Layout))
            new DescriptionText(writer).Write(description);
        return Encoding.UTF8.GetString(buffer.WrittenSpan);
    }

    private void Write(FeedDescription description)
    {
        json.WriteStartObject();
        json.WriteString("schema", FeedDescription.Schema);
        json.WriteString("id", description.Id);
        json.WriteString("title", description.Title);
        json.WriteString("provides", Word(description.Provides));
        Object("attribution", () =>
        {
            json.WriteString("text", description.Attribution.Text);
            Text("url", description.Attribution.Url);
            Text("licence", description.Attribution.Licence);
            Text("note", description.Attribution.Note);
        });
        using (var written = JsonDocument.Parse(description.Json))
        {
            json.WritePropertyName("request");
            Sorted(written.RootElement.GetProperty("request"));
        }
        Refresh(description.Refresh);
        if (description.Failure is { } failure)
            Object("failure", () => Failure(failure));
        Object("format", () =>
        {
            json.WriteString("kind", description.Form.Kind);
            description.Form.Write(json);
        });
        Object("time", () => Time(description.Time));
        Object("series", () =>
        {
            foreach (var one in description.Series)
                Object(one.Name, () => Series(one));
        });
        Object("daily", () =>
        {
            foreach (var one in description.Daily)
                Object(Word(one.Quantity), () => Daily(one));
        });
        Object("expect", () => Expect(description.Expect));
        Texts("caveats", description.Caveats);
        json.WriteEndObject();
    }

    private void Refresh(FeedRefresh refresh) => Object("refresh", () =>
    {
        Span("every", refresh.Every);
        Span("jitter", refresh.Jitter);
        json.WriteString("conditional", Word(refresh.Conditional));
        json.WriteBoolean("honourExpires", refresh.HonourExpires);
        Span("errorCacheMax", refresh.ErrorCacheMax);
        if (refresh.DeprecatedStatus.Count > 0)
            List("deprecatedStatus", refresh.DeprecatedStatus, json.WriteNumberValue);
    });

    private void Failure(FailureDescription failure)
    {
        json.WriteString("flagAt", failure.FlagAt.Text);
        if (failure.EqualTo is not null)
        {
            json.WritePropertyName("equals");
            json.WriteRawValue(failure.EqualTo);
        }
        json.WriteString("messageAt", failure.MessageAt.Text);
    }

    private void Time(TimeDescription time)
    {
        Place(time.Locator);
        json.WriteString("kind", Word(time.Kind));
        Text("pattern", time.HasPattern ? time.PatternText : null);
        if (time.ZoneAt is { } pointer)
            Object("zone", () => json.WriteString("at", pointer.Text));
        else
            Text("zone", time.Zone?.Id ?? (time.Kind is TimeKind.LocalDate or TimeKind.LocalDateTime ? "site" : null));
        Text("plusAt", time.PlusAt?.Text);
        if (time.Kind == TimeKind.LocalDate)
        {
            json.WriteString("dayEnds", string.Create(CultureInfo.InvariantCulture, $"{time.DayEnds / 60:00}:{time.DayEnds % 60:00}"));
            json.WriteString("dayEndsZone", time.DayEndsUtc ? "UTC" : "site");
        }
        Text("dayEndsColumn", time.DayEndsColumn);
    }

    private void Series(SeriesDescription series)
    {
        Text("records", series.Records?.Text);
        if (series.Alternatives.Count == 0)
            Place(series.Locator);
        else
            List("alternatives", series.Alternatives, one => Object(null, () =>
            {
                json.WriteString("at", one.At.Text);
                Span("period", one.Period);
            }));
        Object("unit", () =>
        {
            json.WriteString("code", series.Unit.Code);
            Text("declaredAt", series.UnitDeclaredAt?.Text);
        });
        json.WriteNumber("scale", series.Scale);
        json.WriteString("support", Word(series.Support));
        Span("period", series.Period);
        if (series.Support is Support.Instant or Support.Counter)
            Span("maxGap", series.MaxGap);
        if (series.Where.Count > 0)
            List("where", series.Where, one => Object(null, () =>
            {
                Place(one.Locator);
                json.WriteString("equals", one.EqualTo);
            }));
        if (series.RejectIf.Count > 0)
            List("rejectIf", series.RejectIf, one => Object(null, () => Reject(one)));
        Texts("missing", series.Missing);
        Texts("zeroTokens", series.ZeroTokens);
        List("plausible", [series.Plausible.Low, series.Plausible.High], json.WriteNumberValue);
        if (series.Members is { } members)
            Object("members", () =>
            {
                json.WriteString("suffix", members.Suffix);
                json.WriteNumber("first", members.First);
                json.WriteNumber("last", members.Last);
                json.WriteBoolean("includeBase", members.IncludeBase);
            });
        if (series.Optional)
            json.WriteBoolean("optional", true);
    }

    private void Reject(RejectDescription reject)
    {
        Place(reject.Locator);
        if (reject.Part is { } part)
            json.WriteNumber("part", part);
        if (reject.NotBlank)
            json.WriteBoolean("notBlank", true);
        else
            List("in", reject.In, json.WriteStringValue);
    }

    private void Daily(DailyDescription daily)
    {
        List("from", daily.From, series => json.WriteStringValue(series.Name));
        json.WriteString("reduce", Word(daily.Reduce));
        Text("assign", daily.Assign is { } assign ? Word(assign) : null);
        json.WriteNumber("minCoverage", daily.MinCoverage);
    }

    private void Expect(ExpectDescription expect)
    {
        Texts("present", [.. expect.Present.Select(pointer => pointer.Text)]);
        if ((expect.Back ?? expect.Ahead) is not null)
            Object("horizonDays", () =>
            {
                if (expect.Back is { } back)
                    json.WriteNumber("back", back);
                if (expect.Ahead is { } ahead)
                    json.WriteNumber("ahead", ahead);
            });
        if (expect.FreshAt is { } fresh)
            Object("freshness", () =>
            {
                json.WriteString("at", fresh.Text);
                Span("maxAge", expect.MaxAge);
            });
        if (expect is { ReturnedAt: { } returned, MatchedAt: { } matched })
            Object("pageCheck", () =>
            {
                json.WriteString("returnedAt", returned.Text);
                json.WriteString("matchedAt", matched.Text);
            });
        json.WriteNumber("minMembers", expect.MinMembers);
    }

    private void Place(FieldLocator locator)
    {
        if (locator.Pointer is { } pointer)
            json.WriteString("at", pointer.Text);
        else
            json.WriteString("column", locator.Column);
    }

    /// <summary>The same value with the members of every object in the order of their names, the address first.</summary>
    private void Sorted(JsonElement value)
    {
        if (value.ValueKind == JsonValueKind.Object)
            Object(null, () =>
            {
                foreach (var member in value.EnumerateObject().OrderBy(one => one.Name is not ("name" or "url")).ThenBy(one => one.Name, StringComparer.Ordinal))
                {
                    json.WritePropertyName(member.Name);
                    Sorted(member.Value);
                }
            });
        else if (value.ValueKind == JsonValueKind.Array)
            List(null, value.EnumerateArray(), Sorted);
        else
            value.WriteTo(json);
    }

    private void Object(string? name, Action members)
    {
        if (name is not null)
            json.WritePropertyName(name);
        json.WriteStartObject();
        members();
        json.WriteEndObject();
    }

    private void List<T>(string? name, IEnumerable<T> items, Action<T> write)
    {
        if (name is not null)
            json.WritePropertyName(name);
        json.WriteStartArray();
        foreach (var item in items)
            write(item);
        json.WriteEndArray();
    }

    private void Texts(string name, IReadOnlyList<string> texts)
    {
        if (texts.Count > 0)
            List(name, texts, json.WriteStringValue);
    }

    private void Text(string name, string? text)
    {
        if (text is not null)
            json.WriteString(name, text);
    }

    private void Span(string name, Duration? span)
    {
        if (span is { } known && known > Duration.Zero)
            json.WriteString(name, IsoDuration.Text(known));
    }

    // Every word of the language is the name of its member with a small first letter.
    private static string Word<T>(T value)
        where T : struct, Enum =>
        JsonNamingPolicy.CamelCase.ConvertName(value.ToString());
}
