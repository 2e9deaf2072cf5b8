using System.Text.Json;
using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Forms;

/// <summary>
/// The fixed-width station files of GHCN-Daily (NOAA NCEI, readme.txt section III): one line for each element of a month,
/// taken apart here into one row for each day of it.
/// </summary>
internal sealed record DlyForm(bool KeepFromStart) : FeedForm("dly", LocatorKind.Column)
{
    public override IReadOnlyList<string> FixedColumns => DlyRows.ColumnNames;

    public static FeedForm Read(DescriptionPlace place)
    {
        place.Object("kind!", "keepFrom");
        return new DlyForm(CsvForm.ReadKeepFrom(place));
    }

    public override void Check(DescriptionPlace place, RequestDescription request) =>
        CsvForm.CheckKeepFrom(place, KeepFromStart, request);

    public override void CheckTime(DescriptionPlace place, TimeDescription time)
    {
        if (time.Kind != TimeKind.LocalDate)
            place.Refuse("kind", "A dly file has dates.", "Write \"localDate\".");
        else if (time.Locator?.Column == DlyRows.Date
            && !(time.DatePattern.Parse("20260514") is { Success: true, Value: var date } && date == new LocalDate(2026, 5, 14)))
            place.Refuse("pattern", $"The column {DlyRows.Date} of a dly file holds year, month and day without anything between.", "Write \"uuuuMMdd\".");
    }

    public override void Write(Utf8JsonWriter json) => CsvForm.WriteKeepFrom(json, KeepFromStart);

    public override FeedTable Cut(FeedInput input)
    {
        using var rows = new DlyRows(input.Body, KeepFromStart ? input.KeepFrom : LocalDate.MinIsoValue);
        return rows.Cut(input, KeepFromStart);
    }
}
