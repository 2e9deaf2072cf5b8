using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Calendars;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Calendars;

/// <summary>What stands in a calendar, by another's reading (service-standards 4.1; RFC 5545, RFC 7986).</summary>
public sealed class ContentTests(OneCalendarRun running) : IClassFixture<OneCalendarRun>
{
    private CalendarRun Run => running.Run;

    private long Straw => Run.Invented.Straw;

    private long Hazels => Run.Invented.Hazels;

    [Fact]
    public async Task Tasks_stand_from_their_day_to_their_deadline_and_windows_from_end_to_end()
    {
        var member = await Run.JoinAsync(Role.Viewer, "Alba Ferro");
        var calendar = await Run.ReadAsync(await Run.MakeAsync(member));
        Assert.All(calendar.Events, one =>
        {
            Assert.True(one.AllDay);
            Assert.Null(one.Zone);
            Assert.Equal("TRANSPARENT", one.Busy);
            Assert.EndsWith("@localhost", one.Uid, StringComparison.Ordinal);
            Assert.Equal(one.Stamp, one.Modified);
        });
        Assert.Equal(calendar.Events.Count, calendar.Events.Select(one => one.Uid).Distinct().Count());

        var water = calendar[$"water-1-bed-{Hazels}@"];
        Assert.Equal(("2026-10-14", "2026-10-15", "CONFIRMED", 0), (water.Start, water.End, water.Status, water.Sequence));
        Assert.Equal("Under the hazels · Water: 25 litres", water.Summary.Replace('\u00a0', ' '));
        Assert.Equal(("Alder Lane", $"http://localhost:5080/beds/{Hazels}", "Water"), (water.Location, water.Url, Assert.Single(water.Categories)));
        Assert.Equal("2026-10-14T06:30:00Z", water.Stamp);
        Assert.Contains("its mark for watering is 42", water.Description, StringComparison.Ordinal);
        Assert.Contains("By Wednesday 14 October.", water.Description, StringComparison.Ordinal);
        Assert.Contains("How sure: firm.", water.Description, StringComparison.Ordinal);

        var harvest = calendar[$"expect-harvest-1-bed-{Straw}@"];
        // From two days before to three after the 16th; the end is outside (RFC 5545 §3.6.1).
        Assert.Equal(("2026-10-14", "2026-10-20"), (harvest.Start, harvest.End));
        Assert.Contains("Look every day from Wednesday 14 October to Monday 19 October.", harvest.Description, StringComparison.Ordinal);
        var check = calendar[$"weekly-check-1-bed-{Run.Invented.Young}@"];
        Assert.Equal(("2026-10-11", "2026-10-14"), (check.Start, check.End));

        // No more than a reader of RFC 5545 and 7986 needs, and nobody's name or address.
        Assert.Equal(
            ["name", "prodid", "refresh-interval", "version", "x-published-ttl", "x-wr-calname"], calendar.Properties.Keys.Order(StringComparer.Ordinal));
        Assert.Empty(calendar.Others);
        var text = await Run.TextAsync(await Run.MakeAsync(member));
        Assert.DoesNotContain("Alba", text, StringComparison.Ordinal);
        Assert.DoesNotContain("ORGANIZER", text, StringComparison.Ordinal);
        Assert.Contains("REFRESH-INTERVAL;VALUE=DURATION:PT2H\r\n", text, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Pins_and_harvest_carry_the_whole_caution_with_the_lookalikes_of_their_species()
    {
        var calendar = await Run.ReadAsync(await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Bieito Lago")));
        foreach (var (uid, species) in new[] { ($"expect-harvest-1-bed-{Straw}@", "wine-cap"), ($"expect-pins-1-bed-{Hazels}@", "wood-blewit") })
        {
            var said = Words.For("en").EatingCaution(BedCatalogue.BuiltIn.Species[species]);
            Assert.All(BedCatalogue.BuiltIn.Species[species].Lookalikes, other => Assert.Contains(other.Name, calendar[uid].Description, StringComparison.Ordinal));
            Assert.All(said, sentence => Assert.Contains(sentence, calendar[uid].Description, StringComparison.Ordinal));
        }

        Assert.DoesNotContain("Before you eat", calendar[$"water-1-bed-{Hazels}@"].Description, StringComparison.Ordinal);
    }

    [Fact]
    public async Task Frost_and_heat_stand_on_their_day_although_the_deadline_is_the_evening_before()
    {
        var today = InventedCooperative.Today;
        await Run.TellAsync(Run.Invented.AlderLane, Straw, new NoticeDraft(
            NoticeKind.FrostAhead, today.PlusDays(3), today.PlusDays(2), NoticeConfidence.Likely,
            NoticeReason.Of(ReasonCode.FrostThreatens, (ReasonNumber.GroundMin, -3), (ReasonNumber.FrostMark, -2))));
        await Run.TellAsync(Run.Invented.AlderLane, Straw, new NoticeDraft(
            NoticeKind.HeatAhead, today.PlusDays(-1), today, NoticeConfidence.Likely,
            NoticeReason.Of(ReasonCode.HeatOnYoungSpawn, (ReasonNumber.Tmax, 31), (ReasonNumber.HeatMark, 30), (ReasonNumber.Days, 4))));
        var calendar = await Run.ReadAsync(await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Carme Souto")));
        var frost = calendar[$"frost-ahead-50-bed-{Straw}@"];
        Assert.Equal(("2026-10-17", "2026-10-18"), (frost.Start, frost.End));
        Assert.Contains("Act by the evening of Friday 16 October.", frost.Description, StringComparison.Ordinal);
        var heat = calendar[$"heat-ahead-50-bed-{Straw}@"];
        Assert.Equal(("2026-10-13", "2026-10-14"), (heat.Start, heat.End));
    }

    [Fact]
    public async Task A_notice_of_a_whole_site_stands_under_the_site()
    {
        await Run.TellAsync(Run.Invented.MillField, null, new NoticeDraft(
            NoticeKind.WeeklyCheck, InventedCooperative.Today, InventedCooperative.Today, NoticeConfidence.Firm, NoticeReason.Of(ReasonCode.NothingLogged, (ReasonNumber.Days, 10))));
        var check = (await Run.ReadAsync(await Run.MakeAsync(await Run.JoinAsync(Role.FarmHand, "Uxia Rego"))))[$"weekly-check-50-site-{Run.Invented.MillField}@"];
        Assert.Equal(("Mill Field · Check the bed", "http://localhost:5080/notices"), (check.Summary, check.Url));
    }

    /// <summary>Kinds that are added later too: days in order, words in both languages, a category.</summary>
    [Fact]
    public async Task Every_kind_of_notice_has_its_entry()
    {
        var writer = new CalendarWriter(BedCatalogue.BuiltIn, new ServiceOptions { BaseUrl = new Uri("https://beds.example.org/") });
        var renamed = InventedCooperative.Now + Duration.FromDays(2);
        var site = new Site { Id = 3, Name = "Mill Field", ZoneId = "Europe/Madrid", Version = 9, Renamings = 1, RenamedAt = renamed };
        var bed = new Bed { Id = 7, SiteId = 3, Name = "Path", SpeciesKey = "wine-cap", Version = 9, Renamings = 4, RenamedAt = renamed - Duration.FromDays(1) };
        foreach (var language in new[] { "en", "es" })
        {
            var entries = Enum.GetValues<NoticeKind>().Select(kind => new CalendarEntry(
                NoticeRows.Open(3, 7, new NoticeOpened(kind, 4, new NoticeDraft(kind, new LocalDate(2026, 3, 4), new LocalDate(2026, 3, 2), NoticeConfidence.Likely, Reason(kind))), new LocalDate(2026, 3, 1), InventedCooperative.Now),
                site, bed)).ToList();
            var read = await OtherReader.ReadAsync(System.Text.Encoding.UTF8.GetString(writer.Write(new CalendarContent(Words.For(language), site, entries))));
            Assert.Equal(entries.Select(entry => $"{entry.Row.Kind}-4-bed-7@beds.example.org"), read.Events.Select(one => one.Uid));
            Assert.All(read.Events, one => Assert.True(string.CompareOrdinal(one.Start, one.End) < 0, one.Uid));
            Assert.All(read.Events, one => Assert.Equal(5, one.Sequence)); // four names of the bed, one of the site, and no other edit
            Assert.All(read.Events, one => Assert.Equal((one.Modified, "2026-10-16T06:30:00Z"), (one.Stamp, one.Modified)));
            Assert.All(read.Events, one => Assert.NotEmpty(Assert.Single(one.Categories)));
            Assert.Equal("FruitWatch: Mill Field", read.Properties["name"]);
        }
    }

    /// <summary>A day is the same day wherever it is read: 600 zones, those without a midnight included (RFC 5545 §3.3.4).</summary>
    [Fact]
    public async Task Days_are_the_same_days_in_every_zone()
    {
        // Midnights that do not exist: Santiago 2026-09-06, Cairo, Havana, Beirut.
        foreach (var (number, day) in new LocalDate[] { new(2026, 9, 6), new(2026, 4, 24), new(2026, 3, 8), new(2026, 3, 29) }.Index())
        {
            await Run.TellAsync(Run.Invented.MillField, Run.Invented.Young, new NoticeDraft(
                NoticeKind.WeeklyCheck, day, day.PlusDays(3), NoticeConfidence.Firm, NoticeReason.Of(ReasonCode.NothingLogged, (ReasonNumber.Days, 10))), 60 + number);
        }

        var text = await Run.TextAsync(await Run.MakeAsync(await Run.JoinAsync(Role.Viewer, "Duarte Rei")));
        var zones = DateTimeZoneProviders.Tzdb.Ids;
        Assert.True(zones.Count > 500);
        Assert.Empty((await OtherReader.ReadAsync(text, zones)).Shifted);
    }

    [Fact]
    public async Task It_speaks_its_owners_language_and_units_and_leaves_out_what_they_left_out()
    {
        var member = await Run.JoinAsync(Role.Viewer, "Elvira Nogueira");
        await Run.ChangeAsync(member, person => (person.Language, person.Units, person.KindsLeftOut) = ("es", Units.UsCustomary, "weekly-check expect-pins"));
        // A pause is of mails: the plan goes on.
        await Run.ChangeAsync(member, person => (person.AwayFrom, person.AwayUntil) = (InventedCooperative.Today, InventedCooperative.Today.PlusDays(9)));
        var calendar = await Run.ReadAsync(await Run.MakeAsync(member));
        var water = calendar[$"water-1-bed-{Hazels}@"];
        Assert.StartsWith("Under the hazels · Regar", water.Summary, StringComparison.Ordinal);
        Assert.Contains("gal", water.Summary, StringComparison.Ordinal);
        Assert.Equal("Regar", Assert.Single(water.Categories));
        Assert.Contains("Hasta el miércoles 14 de octubre.", water.Description, StringComparison.Ordinal);
        var harvest = calendar[$"expect-harvest-1-bed-{Straw}@"].Description;
        Assert.All(Words.For("es").EatingCaution(BedCatalogue.BuiltIn.Species["wine-cap"]), sentence => Assert.Contains(sentence, harvest, StringComparison.Ordinal));
        Assert.DoesNotContain(calendar.Events, one => one.Uid.StartsWith("weekly-check", StringComparison.Ordinal) || one.Uid.StartsWith("expect-pins", StringComparison.Ordinal));
    }

    [Fact]
    public async Task A_bed_that_its_owner_left_out_is_not_in_it()
    {
        var member = await Run.JoinAsync(Role.Viewer, "Brais Outeiro");
        await Run.ChangeAsync(member, person => person.BedsLeftOut.Add(new PersonBedLeftOut { BedId = Hazels }));
        var events = (await Run.ReadAsync(await Run.MakeAsync(member))).Events;
        Assert.DoesNotContain(events, one => one.Uid.Contains($"-bed-{Hazels}@", StringComparison.Ordinal));
        Assert.Contains(events, one => one.Uid.Contains($"-bed-{Straw}@", StringComparison.Ordinal));
    }

    private static NoticeReason Reason(NoticeKind kind) => NoticeReason.Of(kind switch
    {
        NoticeKind.Water => ReasonCode.WaterLow,
        NoticeKind.HoldWater => ReasonCode.AirLow,
        NoticeKind.CoverOn => ReasonCode.DryAhead,
        NoticeKind.CoverOff => ReasonCode.ReadyToPin,
        NoticeKind.FrostAhead => ReasonCode.FrostThreatens,
        NoticeKind.HeatAhead => ReasonCode.BedNearHarm,
        NoticeKind.ExpectPins => ReasonCode.PinsAhead,
        NoticeKind.ExpectHarvest => ReasonCode.HarvestAhead,
        NoticeKind.YearlyFeeding => ReasonCode.YearSinceFilling,
        NoticeKind.Spent => ReasonCode.FillingUsedUp,
        _ => ReasonCode.NothingLogged,
    });
}
