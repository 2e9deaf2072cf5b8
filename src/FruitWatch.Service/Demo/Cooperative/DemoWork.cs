using FruitWatch.Model.Account;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Demo.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using NodaTime;
using BedCover = FruitWatch.Model.Beds.Cover;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Demo.Cooperative;

/// <summary>
/// What the demo's growers do and see at a bed on a day: they come by on some days, mostly do as they are told, sometimes forget,
/// water a bed that feels dry, look under the straw, and write down what they saw.
/// </summary>
internal sealed class DemoWork(DemoWeather weather, long seed)
{
    private const long Stream = 301;
    private const double CanLitres = 10;

    /// <summary>Entries of the day, in order of time; none where nobody came by.</summary>
    public IReadOnlyList<LogRow> On(BedToday day)
    {
        var chance = Chance.Of(seed, Stream, day.Bed.Id, InventedRegion.DayNumber(day.Date));
        var visit = new Visit(day, DemoGrower.At(day.Site.Key), ref chance);
        if (!ComesBy(day, ref chance))
            return [];
        Cover(day, visit, ref chance);
        Water(day, visit, ref chance);
        Check(day, visit, ref chance);
        Fruit(day, visit, ref chance);
        Feed(day, visit, ref chance);
        return visit.Rows;
    }

    private static bool ComesBy(BedToday day, ref Chance chance)
    {
        var hurry = day.Now.Phase is Phase.Pinning or Phase.Growing or Phase.Picking ? 0.75 : 0.3;
        if (day.Now.Phase == Phase.Spent)
            hurry = 0.08;
        if (day.Told.Count > 0)
            hurry = Math.Max(hurry, 0.6);
        return chance.Happens(hurry) || (day.DaysSinceAny() > 8 && chance.Happens(0.6));
    }

    private static void Cover(BedToday day, Visit visit, ref Chance chance)
    {
        var on = day.Cover;
        var told = day.IsTold(NoticeKind.CoverOff) || (day.Told.Count == 0 && day.Now.Phase == Phase.Ready);
        if (on != BedCover.None && told && chance.Happens(0.85))
            visit.Note(LogKinds.Cover, text: "none");
        else if (on == BedCover.None && day.IsTold(NoticeKind.CoverOn) && chance.Happens(0.85))
            visit.Note(LogKinds.Cover, text: "sheet");
    }

    private void Water(BedToday day, Visit visit, ref Chance chance)
    {
        if (day.Now.Phase == Phase.Spent)
            return;
        var litres = day.Told.FirstOrDefault(notice => notice.Kind == NoticeRows.WordOf(NoticeKind.Water))?.Amount ?? Missing(day);
        if (litres < CanLitres / 2 || !chance.Happens(0.85))
            return;
        visit.Note(LogKinds.Watered, Math.Max(1, Math.Round(litres / CanLitres)) * CanLitres);
    }

    /// <summary>What a bed that feels dry is given, unless the sky looks like rain. [L]</summary>
    private double Missing(BedToday day)
    {
        var soon = Enumerable.Range(1, 2).Sum(ahead => weather.On(day.Site.Place, day.Date.PlusDays(ahead)).Rain!.Value);
        return day.Now.Moisture < day.Now.WaterMark + 0.08 && soon < 3 && day.Cover == BedCover.None
            ? (0.95 - day.Now.Moisture) * day.Now.AvailableStore * day.Bed.Area
            : 0;
    }

    private static void Check(BedToday day, Visit visit, ref Chance chance)
    {
        if (day.DaysSince(LogKinds.Squeeze) >= 5 && chance.Happens(0.8))
            visit.Note(LogKinds.Squeeze, text: day.Now.Moisture < 0.4 ? "crumbles" : day.Now.Moisture < 1.1 ? "right" : "dripping");
        if (day.Now.Phase == Phase.SpawnRun && day.DaysSince(LogKinds.Mycelium) >= 14 && day.Now.SpawnRun >= 0.1)
            visit.Note(LogKinds.Mycelium, Math.Floor(day.Now.SpawnRun * 10) / 10);
        if (day.Now.Phase is Phase.Ready or Phase.Pinning && day.DaysSince(LogKinds.NoPins) >= 6 && chance.Happens(0.8))
            visit.Note(LogKinds.NoPins);
    }

    private static void Fruit(BedToday day, Visit visit, ref Chance chance)
    {
        // Pins of this flush that nobody has written down yet.
        if (day.Now.Phase == Phase.Growing && day.DaysSinceEvent(AccountEvent.Pins) < day.DaysSince(LogKinds.Pins))
            visit.Note(LogKinds.Pins);
        else if (day.Now.Phase == Phase.Picking)
            visit.Note(LogKinds.Picked, InventedRegion.Tenths(day.Bed.Area * (0.1 + 0.25 * chance.Uniform())));
    }

    private static void Feed(BedToday day, Visit visit, ref Chance chance)
    {
        var spring = day.Date.Month == 4 && day.DaysSince(LogKinds.ToppedUp) > 250;
        if ((spring || day.IsTold(NoticeKind.YearlyFeeding)) && chance.Happens(0.3))
            visit.Note(LogKinds.ToppedUp, text: day.Bed.Layers[^1].MaterialKey, depth: 0.04);
    }

    /// <summary>One person's way along the bed.</summary>
    private sealed class Visit
    {
        private readonly List<LogRow> rows = [];
        private readonly BedToday day;
        private readonly string who;
        private LocalTime at;

        public Visit(BedToday day, IReadOnlyList<DemoGrower> growers, ref Chance chance)
        {
            this.day = day;
            who = growers[chance.Between(0, growers.Count - 1)].Email;
            at = new LocalTime(8, 0).PlusMinutes(chance.Between(0, 500));
        }

        public IReadOnlyList<LogRow> Rows => rows;

        public void Note(string kind, double? amount = null, string? text = null, double? depth = null)
        {
            at = at.PlusMinutes(4);
            rows.Add(new LogRow
            {
                BedId = day.Bed.Id,
                On = day.Date,
                At = at,
                Kind = kind,
                Amount = amount,
                Text = text,
                Depth = depth,
                RecordedBy = who,
            });
        }
    }
}
