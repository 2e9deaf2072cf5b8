using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using FruitWatch.Feeds.Mapping;
using NodaTime;

namespace FruitWatch.Feeds;

/// <summary>Reads the body of a feed's answer into local days. Pure: the same body gives the same reading.</summary>
public static class FeedReader
{
    // A day's slack on either side of the date line, and one because "ahead" counts today in some feeds and not in others.
    private const int HorizonSlack = 2;
    private const int UsualHorizon = 35;

    /// <summary>Reads an answer.</summary>
    /// <param name="description">How the feed answers.</param>
    /// <param name="body">The answer, unpacked.</param>
    /// <param name="site">The place; its zone cuts the days.</param>
    /// <param name="today">The site's local date.</param>
    /// <param name="receivedAt">When the answer came.</param>
    /// <param name="start">Days before this one are not needed; by default as many days back as the description says.</param>
    /// <param name="explain">Whether to put beside each value what the answer had (<see cref="FeedValue.Raw"/>).</param>
    /// <exception cref="FeedException">The answer is refused as a whole.</exception>
    public static FeedReading Read(
        FeedDescription description,
        ReadOnlyMemory<byte> body,
        FeedSite site,
        LocalDate today,
        Instant receivedAt,
        LocalDate? start = null,
        bool explain = false)
    {
        ArgumentNullException.ThrowIfNull(description);
        ArgumentNullException.ThrowIfNull(site);
        var notes = new NoteBook();
        var keepFrom = start ?? today.PlusDays(-(description.Request.Back ?? 0));
        var table = description.Form.Cut(new FeedInput(description, body, site, keepFrom, receivedAt, notes));
        var days = new SiteDays(site.Zone);
        var lastDate = LastDate(description, today);
        var slots = SlotsOf(description, table, days, lastDate, notes);
        var found = new DayMaker(description, days, lastDate, notes, explain).Make(table, slots);
        DayChecks.Refuse(description, found, today);
        var spreadUsable = DayChecks.NoteMembers(description, table, found, notes);
        DayChecks.NoteGaps(found, notes);
        return new FeedReading(found, notes.Notes, today, receivedAt, description.Provides)
        {
            SpreadUsable = spreadUsable,
            Read = ReadAs(description, table),
        };
    }

    private static LocalDate LastDate(FeedDescription description, LocalDate today) =>
        description.Provides == FeedProvides.History
            ? today
            : today.PlusDays((description.Expect.Ahead ?? UsualHorizon) + HorizonSlack);

    private static Dictionary<SeriesCells, IReadOnlyList<Slot>> SlotsOf(
        FeedDescription description, FeedTable table, SiteDays days, LocalDate lastDate, NoteBook notes)
    {
        var time = description.Time;
        var zone = time.Zone ?? table.Zone ?? days.Zone;
        var dateDays = new SiteDays(time.DayEndsUtc ? DateTimeZone.Utc : zone);
        var stamps = new StampReader(time, zone);
        var cutter = new SlotCutter(description, days, dateDays, lastDate, notes);
        var tally = new Tally();
        var slots = table.Series.ToDictionary(
            cells => cells, cells => cutter.Cut(cells, stamps.Read(cells), new ValueReader(cells, description.Form.DecimalSign, notes, tally)));
        tally.Check();
        return slots;
    }

    private static List<SeriesRead> ReadAs(FeedDescription description, FeedTable table) =>
    [
        .. description.Daily.Where(daily => daily.Quantity is Quantity.Tmax or Quantity.Rain).SelectMany(daily => table.Series
            .DistinctBy(cells => cells.Series.Name)
            .Where(cells => daily.From.Contains(cells.Series))
            .Select(cells => new SeriesRead(
                cells.Series.Name, daily.Quantity, cells.Unit, cells.UnitIsDeclared, cells.Series.Scale))),
    ];
}
