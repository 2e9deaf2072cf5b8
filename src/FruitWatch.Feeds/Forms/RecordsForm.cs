using System.Text.Json;
using FruitWatch.Feeds.Describing;

namespace FruitWatch.Feeds.Forms;

/// <summary>
/// JSON in which each moment is a record of its own. In the kind <c>records</c> all series are read from one list, which may
/// hold a list of children in each record; in the kind <c>intervals</c> each series has its own list, and each record says
/// from when to when its value holds.
/// </summary>
internal sealed record RecordsForm(string Kind, JsonPointer? Records, JsonPointer? Children) : FeedForm(Kind, LocatorKind.Pointer)
{
    private const string IntervalsKind = "intervals";

    public override bool HasRecords => true;

    public override bool HasIntervals => true;

    /// <summary>The series must each name their list.</summary>
    public bool NeedsRecordsOfSeries => Records is null;

    public static FeedForm Read(DescriptionPlace place)
    {
        place.Object("kind!", "records!", "children");
        // A pointer that cannot be read is refused; the stand-in keeps the series from being asked for their own lists.
        return new RecordsForm("records", place.At("records") ?? JsonPointer.Root, place.At("children"));
    }

    public static FeedForm ReadIntervals(DescriptionPlace place)
    {
        place.Object("kind!");
        return new RecordsForm(IntervalsKind, null, null);
    }

    public override void CheckTime(DescriptionPlace place, TimeDescription time)
    {
        if (Kind == IntervalsKind && time.Kind != TimeKind.IsoInterval)
            place.Refuse("kind", "The format intervals has times of the kind isoInterval.", "Write \"isoInterval\", or use the format records.");
    }

    public override void Write(Utf8JsonWriter json)
    {
        if (Records is not null)
            json.WriteString("records", Records.Text);
        if (Children is not null)
            json.WriteString("children", Children.Text);
    }

    public override FeedTable Cut(FeedInput input)
    {
        using var document = JsonBody.Open(input);
        var root = document.RootElement;
        var description = input.Description;
        var lists = new Dictionary<string, RecordList?>();
        var table = new List<SeriesCells>();
        foreach (var series in description.Series)
        {
            var at = series.Records ?? Records!;
            if (!lists.TryGetValue(at.Text, out var list))
                lists[at.Text] = list = RecordList.In(root, at, series.Records is null ? Children : null, description.Time);
            if (list is not null)
                table.AddRange(CutOne(root, series, list, input));
            else if (!series.Optional)
                throw JsonBody.NotThere(root, at, $"The list of records of {series.Name}");
        }
        return new FeedTable(JsonBody.ZoneIn(root, description.Time), table);
    }

    private static IEnumerable<SeriesCells> CutOne(JsonElement root, SeriesDescription series, RecordList list, FeedInput input)
    {
        var any = false;
        foreach (var (label, suffix) in series.Members?.All().Select(one => ((string?)one.Label, one.Suffix)) ?? [(null, "")])
        {
            var reader = new RecordSeries(series, suffix, list);
            if (reader.Cells() is not { } cells)
                continue;
            any = true;
            var (unit, declared) = JsonBody.UnitIn(root, series, suffix, input);
            yield return new SeriesCells(series, label, unit, cells, reader.ValuePlace, cell => list.TimePlace(cell.Row))
            {
                UnitIsDeclared = declared,
            };
        }
        if (!any && !series.Optional && series.Members is null)
            throw list.NotThere(series.Pointers[0], $"The series {series.Name}");
    }
}
