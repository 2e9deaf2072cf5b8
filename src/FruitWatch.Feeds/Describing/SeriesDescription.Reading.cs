using System.Globalization;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Describing;

internal sealed partial record SeriesDescription
{
    private const int MostSeries = 40;

    private static readonly string[] OfRecords = ["records", "alternatives"];

    // A value over a longer time says nothing about a day. It also bounds the days that one value can touch.
    public static readonly Duration LongestPeriod = Duration.FromDays(31);

    public static IReadOnlyList<SeriesDescription> All(DescriptionPlace place, FeedForm? form, TimeDescription? time)
    {
        var members = place.Members();
        if (members.Count is 0 or > MostSeries)
            place.Refuse($"A feed has 1 to {MostSeries} series.", "Describe those the days are made from.");
        return form is null || time is null ? [] : [.. members.Select(member => From(member.Name, member.Place, form, time))];
    }

    private static SeriesDescription From(string name, DescriptionPlace place, FeedForm form, TimeDescription time)
    {
        if (!place.Object("at", "column", "records", "alternatives", "where", "rejectIf", "unit!", "scale", "support!", "period",
            "maxGap", "missing", "zeroTokens", "plausible", "members", "optional"))
            return new SeriesDescription { Name = name };
        if (name.Length is 0 or > 16 || name[0] is < 'a' or > 'z' || !name.All(char.IsAsciiLetterOrDigit) || name.Any(char.IsAsciiLetterUpper))
            place.Refuse("A series' name has 1 to 16 lower-case letters and digits and begins with a letter.", "Rename it here and under daily.");
        CheckPlace(place, form);
        var unit = ReadUnit(place);
        var series = new SeriesDescription
        {
            Name = name,
            Locator = place.Member("alternatives") is null ? FieldLocator.From(place, form)! : new FieldLocator(null, ""),
            Records = form.HasRecords ? place.At("records") : null,
            Alternatives = form.HasRecords ? ReadAlternatives(place) : [],
            Where = [.. place.Items("where", 8).Select(item => ReadWhere(item, form)).OfType<WhereDescription>()],
            RejectIf = [.. place.Items("rejectIf", 8).Select(item => ReadReject(item, form)).OfType<RejectDescription>()],
            Unit = unit,
            UnitDeclaredAt = ReadDeclaredAt(place, form),
            Scale = ReadScale(place),
            Support = place.Word("support", Support.Instant, "instant", "preceding", "following", "interval", "day", "counter"),
            Period = place.Span("period", LongestPeriod),
            MaxGap = place.Span("maxGap", LongestPeriod) ?? UsualMaxGap,
            Missing = place.Texts("missing"),
            ZeroTokens = place.Texts("zeroTokens"),
            Plausible = ReadPlausible(place, unit),
            Members = ReadMembers(place),
            Optional = place.Flag("optional"),
        };
        if (place.IsClean)
            CheckSupport(place, series, form, time);
        return series;
    }

    private static void CheckPlace(DescriptionPlace place, FeedForm form)
    {
        foreach (var foreign in OfRecords)
        {
            if (!form.HasRecords)
                place.Member(foreign)?.Refuse($"{foreign} does not belong to the format {form.Kind}.", "Remove it.");
        }
        if (form is RecordsForm { NeedsRecordsOfSeries: true } && place.Member("records") is null)
            place.Refuse("records", "This member is missing.", "Say where the series' own list is, for example /properties/maxTemperature/values.");
        if (place.Member("alternatives") is not null)
            place.Member("at")?.Refuse("With alternatives, each of them says where the value is.", "Remove at, or alternatives.");
    }

    private static List<AlternativeDescription> ReadAlternatives(DescriptionPlace place)
    {
        var items = place.Items("alternatives", 4);
        if (place.Member("alternatives") is { IsClean: true } list && items.Count == 0)
            list.Refuse("No alternative is listed.", "List at least one, or use at.");
        var all = new List<AlternativeDescription>();
        foreach (var item in items)
        {
            if (item.Object("at!", "period!") && item.At("at") is { } at && item.Span("period", LongestPeriod) is { } period)
                all.Add(new AlternativeDescription(at, period));
        }
        if (all.Select(one => one.Period).Distinct().Count() != all.Count)
            place.Refuse("alternatives", "Two alternatives have the same period, and nobody can say which is meant.", "Keep one of them.");
        return all;
    }

    private static void CheckSupport(DescriptionPlace place, SeriesDescription series, FeedForm form, TimeDescription time)
    {
        switch (series.Support)
        {
            case Support.Preceding or Support.Following when series.Period is null:
                place.Refuse(
                    "period",
                    "A total over the time before or after its stamp needs the length of that time.",
                    "Add for example \"period\": \"PT1H\".");
                break;
            case Support.Instant or Support.Day or Support.Counter when series.Period is not null:
                place.Refuse("period", "Only preceding, following and interval values have a period.", "Remove it.");
                break;
            case Support.Interval when series.Alternatives.Count == 0 && time.Kind != TimeKind.IsoInterval:
                place.Refuse(
                    "support",
                    "The start and end of the value are given neither by its time (isoInterval) nor by alternatives.",
                    "Use preceding or following with a period.");
                break;
            case not Support.Interval when series.Alternatives.Count > 0 || time.Kind == TimeKind.IsoInterval:
                place.Refuse("support", "The value holds from one moment to another.", "Write \"interval\".");
                break;
            case Support.Counter when series.Unit.Quantity != UnitQuantity.Depth:
                place.Refuse("support", "Only rain comes as a running total.", "Use another support.");
                break;
            default:
                break;
        }
        if (place.Member("maxGap") is not null && series.Support is not (Support.Instant or Support.Counter))
            place.Refuse("maxGap", "Only readings of a moment or a counter have gaps.", "Remove it.");
        if (series.Alternatives.Count > 0 && (time.Kind == TimeKind.IsoInterval || series.Period is not null))
            place.Refuse("alternatives", "Each alternative has a period of its own, from its record's time on.", "Remove period, or use another kind of time.");
        if (series.Support == Support.Day != (time.Kind == TimeKind.LocalDate))
            place.Refuse(
                "support",
                "Values of whole days go with dates (localDate), all others with times.",
                "Change support here, or kind under time.");
    }

    private static Unit ReadUnit(DescriptionPlace place)
    {
        var at = place.Member("unit");
        if (at is null || !at.Object("code!", "declaredAt") || at.Text("code") is not { } code)
            return Unit.All[0];
        if (Unit.ByCode(code) is { } unit)
            return unit;
        var meant = Unit.Declared(code) is { } alias ? $"Write \"{alias.Code}\"." : $"Use one of: {string.Join(", ", Unit.All.Select(one => one.Code))}.";
        at.Refuse("code", $"\"{FailureDescription.Quoted(code)}\" is not the code of a unit.", meant);
        return Unit.All[0];
    }

    private static JsonPointer? ReadDeclaredAt(DescriptionPlace place, FeedForm form)
    {
        if (place.Member("unit") is not { } unit || unit.Member("declaredAt") is not { } at)
            return null;
        if (form.Locators == LocatorKind.Column)
            at.Refuse("A CSV file cannot be pointed into.", "Remove it.");
        return at.AsPointer();
    }

    private static double ReadScale(DescriptionPlace place)
    {
        if (place.Member("scale") is not { } at)
            return 1;
        var scale = at.AsNumber();
        if (scale <= 0)
            at.Refuse("A scale is above zero.", "For values in tenths write 0.1.");
        return scale;
    }

    // −89.2 °C and 56.7 °C, 1825 mm in a day: WMO World Weather and Climate Extremes Archive. No feed of a cultivated place
    // comes near the cold record, so the lower limit is closer.
    private static (double Low, double High) ReadPlausible(DescriptionPlace place, Unit unit)
    {
        var usual = unit.Quantity switch
        {
            UnitQuantity.Temperature => (-70.0, 60.0),
            UnitQuantity.Depth => (0.0, 2000.0),
            _ => (0.0, 100.0),
        };
        if (place.Member("plausible") is not { } at)
            return usual;
        var limits = place.Items("plausible").Select(item => item.AsNumber()).ToList();
        // Wider limits are for odd instruments, not for what cannot be: no rain is negative, no humidity above 100 %.
        var widest = unit.Quantity switch
        {
            UnitQuantity.Temperature => (Low: -100.0, High: 100.0),
            UnitQuantity.Depth => (Low: 0.0, High: 10_000.0),
            _ => (Low: 0.0, High: 100.0),
        };
        if (limits.Count == 2 && limits[0] < limits[1] && limits[0] >= widest.Low && limits[1] <= widest.High)
            return (limits[0], limits[1]);
        at.Refuse(
            $"Two limits are needed, the lower first, within {widest.Low.ToString(CultureInfo.InvariantCulture)} and {widest.High.ToString(CultureInfo.InvariantCulture)}.",
            "Write for example [-40, 50], in °C, mm or %.");
        return usual;
    }

    private static MembersDescription? ReadMembers(DescriptionPlace place)
    {
        if (place.Member("members") is not { } at || !at.Object("suffix!", "first!", "last!", "includeBase"))
            return null;
        var suffix = at.Text("suffix") ?? "";
        if (at.Member("suffix") is { IsClean: true } text && !suffix.Contains("{nn}", StringComparison.Ordinal))
            text.Refuse("The suffix has no {nn} for the member's number.", "Write for example _member{nn}.");
        var (first, last) = (at.Whole("first", 0, 99) ?? 0, at.Whole("last", 0, 99) ?? 0);
        if (at.IsClean && last < first)
            at.Refuse("last", "The last member comes before the first.", "Correct one of them.");
        return new MembersDescription(suffix, first, last, at.Flag("includeBase"));
    }

    private static WhereDescription? ReadWhere(DescriptionPlace place, FeedForm form)
    {
        if (!place.Object("at", "column", "equals!") || place.Member("equals") is not { } value)
            return null;
        return FieldLocator.From(place, form) is { } locator ? new WhereDescription(locator, CellText.Of(value.Element)) : null;
    }

    private static RejectDescription? ReadReject(DescriptionPlace place, FeedForm form)
    {
        if (!place.Object("at", "column", "part", "notBlank", "in"))
            return null;
        var marks = place.Items("in").Select(item => CellText.Of(item.Element) ?? "").ToList();
        var notBlank = place.Flag("notBlank");
        if (notBlank == (marks.Count > 0))
            place.Refuse("Exactly one of notBlank and in says which marks are bad.", "Write \"notBlank\": true, or a list under in.");
        return FieldLocator.From(place, form) is { } locator
            ? new RejectDescription(locator, place.Whole("part", 0, 8), notBlank, marks)
            : null;
    }
}
