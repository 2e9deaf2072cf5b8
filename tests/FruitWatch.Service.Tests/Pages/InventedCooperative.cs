using FruitWatch.Feeds;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Log;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using BedRow = FruitWatch.Store.Entities.Bed;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Tests.Pages;

/// <summary>
/// Growers, places and weather that do not exist: two sites, beds in every phase that a page can meet, notices of all states, mails of
/// several. One gathers what a page may have to show.
/// </summary>
internal sealed class InventedCooperative
{
    /// <summary>An autumn morning at the sites.</summary>
    public static readonly Instant Now = Instant.FromUtc(2026, 10, 14, 6, 30);

    public static readonly LocalDate Today = new(2026, 10, 14);

    /// <summary>Straw ring: moist, fruiting soon, watered often.</summary>
    public long Straw { get; private set; }

    /// <summary>Under the hazels: a species that waits for frost.</summary>
    public long Hazels { get; private set; }

    /// <summary>Young bed in its spawn run.</summary>
    public long Young { get; private set; }

    /// <summary>Made by the time that no weather is known of.</summary>
    public long Later { get; private set; }

    public long Cooperative { get; private set; }

    public long AlderLane { get; private set; }

    public long MillField { get; private set; }

    public long Feed { get; private set; }

    /// <summary>The oldest entry of the straw ring.</summary>
    public long Entry { get; private set; }

    public long Mail { get; private set; }

    /// <summary>A program that is told nothing any more: its receiver was gone.</summary>
    public long Webhook { get; private set; }

    /// <summary>What it was told last.</summary>
    public long Delivery { get; private set; }

    /// <summary>A file of an own station that somebody is looking at, with a gap, an unreadable value and text that means harm.</summary>
    public Guid Trial { get; private set; }

    public static async Task<InventedCooperative> MakeAsync(FruitWatchStore store)
    {
        var made = new InventedCooperative();
        await made.PlacesAsync(store);
        await made.WeatherAsync(store);
        await made.LogAsync(store);
        await made.NoticesAsync(store);
        await made.OutlooksAsync(store);
        await made.MailsAsync(store);
        await made.TrialAsync(store);
        await made.WebhookAsync(store);
        return made;
    }

    private async Task PlacesAsync(FruitWatchStore store)
    {
        var growers = new Store.Entities.Cooperative { Name = "Alder Lane Growers" };
        store.Cooperatives.Add(growers);
        await store.SaveChangesAsync();
        Cooperative = growers.Id;
        var feed = new Feed
        {
            CooperativeId = growers.Id,
            Key = "hill-station",
            Title = "Hill Station",
            Description = """{"attribution":{"text":"Weather by the invented Hill Station","url":"https://weather.example/"}}""",
        };
        store.Feeds.Add(feed);
        await store.SaveChangesAsync();
        Feed = feed.Id;
        var lane = new Site { CooperativeId = growers.Id, Name = "Alder Lane", Latitude = 43.2, Longitude = -3.1, Elevation = 120, ZoneId = "Europe/Madrid", ForecastFeedId = feed.Id };
        var mill = new Site { CooperativeId = growers.Id, Name = "Mill Field", Latitude = 43.3, Longitude = -3.2, Elevation = 60, ZoneId = "Europe/Madrid", ForecastFeedId = feed.Id };
        store.Sites.AddRange(lane, mill);
        await store.SaveChangesAsync();
        (AlderLane, MillField) = (lane.Id, mill.Id);

        var straw = Bed(lane, "Straw ring", "wine-cap", new LocalDate(2026, 6, 6), ("cereal-straw", 0.15), ("hardwood-chips", 0.05));
        straw.Area = 6;
        straw.Shade = 0.5;
        var hazels = Bed(lane, "Under the hazels", "wood-blewit", new LocalDate(2026, 4, 2), ("leaf-mould", 0.2));
        hazels.Shade = 0.7;
        var young = Bed(mill, "Path by the fence", "wine-cap", new LocalDate(2026, 9, 20), ("hardwood-chips", 0.12));
        var later = Bed(mill, "Next spring's bed", "elm-oyster", new LocalDate(2027, 3, 1), ("hardwood-chips", 0.12));
        store.Beds.AddRange(straw, hazels, young, later);
        await store.SaveChangesAsync();
        (Straw, Hazels, Young, Later) = (straw.Id, hazels.Id, young.Id, later.Id);
    }

    private async Task WeatherAsync(FruitWatchStore store)
    {
        var issued = Now - Duration.FromHours(3);
        foreach (var site in new[] { AlderLane, MillField })
        {
            // Mill Field knows its past years, so that its outlook goes on where that of Alder Lane ends with the forecast.
            var days = site == MillField ? 1150 : 240;
            var past = Enumerable.Range(0, days).Select(i => Today.PlusDays(-days + i)).Select(date => DayOf(date, site)).ToList();
            await store.MergeWeatherAsync(site, Feed, past, issued, issued);
            var ahead = Enumerable.Range(0, 10).Select(i => DayOf(Today.PlusDays(i), site)).ToList();
            // Some feeds end with the rain before they end with the temperatures.
            if (site == MillField)
                ahead[6] = ahead[6] with { Rain = null, RainFrom = Provenance.Unknown };
            // Mill Field's forecast is old, so that pages have something to warn of.
            var at = site == MillField ? Now - Duration.FromHours(40) : issued;
            store.Forecasts.Add(new ForecastIssue
            {
                SiteId = site,
                FeedId = Feed,
                IssuedAt = at,
                FetchedAt = at,
                FirstDay = Today,
                Days = 10,
                Payload = new ForecastPayload(ahead, []).Write(),
            });
            store.Mornings.Add(new SiteMorning { SiteId = site, On = Today, DoneAt = Now - Duration.FromMinutes(20), FeedState = "fresh" });
        }

        await store.SaveChangesAsync();
    }

    /// <summary>An invented year: warm in July, showers of their own rhythm.</summary>
    private static WeatherDay DayOf(LocalDate date, long site)
    {
        var mean = 13 + 8 * Math.Cos(2 * Math.PI * (date.DayOfYear - 201) / 365.0) + 2 * Math.Sin(date.DayOfYear / 2.7 + site);
        var rain = Math.Max(0, 11 * Math.Sin(date.DayOfYear * 2.3 + site) - 6);
        return new WeatherDay(date, Math.Round(mean + 5 - rain / 4, 1), Math.Round(mean - 5 + rain / 4, 1), Math.Round(rain, 1));
    }

    private async Task LogAsync(FruitWatchStore store)
    {
        var first = Log(Straw, new LocalDate(2026, 7, 20), LogKinds.Watered, amount: 60);
        store.LogEntries.AddRange(
            first,
            Log(Straw, new LocalDate(2026, 8, 3), LogKinds.Watered, amount: 90),
            Log(Straw, new LocalDate(2026, 8, 21), LogKinds.Watered, amount: 90, note: "Still dry underneath <b>& dusty</b>"),
            Log(Straw, new LocalDate(2026, 9, 12), LogKinds.Squeeze, text: "right"),
            Log(Straw, new LocalDate(2026, 10, 9), LogKinds.Pins),
            Log(Hazels, new LocalDate(2026, 9, 30), LogKinds.Cover, text: "none"));
        await store.SaveChangesAsync();
        Entry = first.Id;
    }

    private async Task NoticesAsync(FruitWatchStore store)
    {
        store.Notices.AddRange(
            Notice(AlderLane, Straw, 1, new NoticeDraft(
                NoticeKind.ExpectHarvest, Today.PlusDays(2), Today.PlusDays(5), NoticeConfidence.Likely,
                NoticeReason.Of(ReasonCode.HarvestAhead, (ReasonNumber.Days, 2), (ReasonNumber.EarlyDays, 2), (ReasonNumber.LateDays, 3)))),
            Notice(AlderLane, Hazels, 1, new NoticeDraft(
                NoticeKind.Water, Today, Today, NoticeConfidence.Firm,
                NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.31), (ReasonNumber.WaterMark, 0.42), (ReasonNumber.RainToCome, 1), (ReasonNumber.Days, 3), (ReasonNumber.Goes, 1)))
            { Amount = 25 }),
            Notice(MillField, Young, 1, new NoticeDraft(
                NoticeKind.WeeklyCheck, Today.PlusDays(-3), Today.PlusDays(-1), NoticeConfidence.Firm,
                NoticeReason.Of(ReasonCode.NothingLogged, (ReasonNumber.Days, 10)))),
            Notice(AlderLane, Hazels, 1, new NoticeDraft(
                NoticeKind.ExpectPins, Today.PlusDays(6), Today.PlusDays(9), NoticeConfidence.Possible,
                NoticeReason.Of(ReasonCode.PinsAhead, (ReasonNumber.Days, 6), (ReasonNumber.EarlyDays, 2), (ReasonNumber.LateDays, 3)))),
            Closed(Notice(AlderLane, Straw, 1, new NoticeDraft(
                NoticeKind.Water, Today.PlusDays(-20), Today.PlusDays(-19), NoticeConfidence.Firm,
                NoticeReason.Of(ReasonCode.WaterLow, (ReasonNumber.Moisture, 0.2)))
            { Amount = 40 }), NoticeEnd.Done, ClosingCode.Watered),
            Closed(Notice(AlderLane, Straw, 1, new NoticeDraft(
                NoticeKind.ExpectPins, Today.PlusDays(-9), Today.PlusDays(-6), NoticeConfidence.Likely,
                NoticeReason.Of(ReasonCode.PinsAhead, (ReasonNumber.Days, 3)))), NoticeEnd.Done, ClosingCode.PinsSeen),
            Closed(Notice(MillField, Young, 1, new NoticeDraft(
                NoticeKind.HeatAhead, Today.PlusDays(-20), Today.PlusDays(-20), NoticeConfidence.Likely,
                NoticeReason.Of(ReasonCode.HeatOnYoungSpawn, (ReasonNumber.Tmax, 31), (ReasonNumber.HeatMark, 30), (ReasonNumber.Days, 4)))),
                NoticeEnd.Withdrawn, ClosingCode.ForecastChanged),
            Closed(Notice(MillField, Young, 1, new NoticeDraft(
                NoticeKind.HoldWater, Today.PlusDays(-12), Today.PlusDays(-10), NoticeConfidence.Firm,
                NoticeReason.Of(ReasonCode.AirLow, (ReasonNumber.Air, 0.08), (ReasonNumber.AirMark, 0.15)))), NoticeEnd.Lapsed, ClosingCode.DayPassed));
        await store.SaveChangesAsync();
    }

    /// <summary>What was forecast of the straw ring before its pins of 9 October, and of the hazels, which nobody looked at.</summary>
    private async Task OutlooksAsync(FruitWatchStore store)
    {
        for (var on = new LocalDate(2026, 9, 1); on < new LocalDate(2026, 10, 9); on = on.PlusDays(1))
        {
            store.Outlooks.Add(KeptOutlooks.Row(
                Straw, on, pins: on >= new LocalDate(2026, 10, 1) ? 48 : 4, rule: on >= new LocalDate(2026, 9, 28)));
        }

        store.Outlooks.AddRange(Enumerable.Range(1, 5).Select(ago => KeptOutlooks.Row(Hazels, Today.PlusDays(-ago), pins: 6, rule: false)));
        await store.SaveChangesAsync();
    }

    private async Task MailsAsync(FruitWatchStore store)
    {
        foreach (var (state, number) in new[] { MailState.Sent, MailState.Failed, MailState.Pending }.Select((state, i) => (state, i)))
        {
            store.Outbox.Add(new OutgoingMail
            {
                Key = $"digest:1:2026-10-{12 + number}",
                CooperativeId = Cooperative,
                ToName = "Rowan Field",
                ToAddress = "rowan@alder-lane.example",
                Subject = $"{2 + number} beds need you today",
                TextBody = "Water Under the hazels: 25 litres.\nBy this evening.",
                HtmlBody = """<!doctype html><html lang="en"><head><title>Digest</title></head><body><p style="color:#7b2d3b">Water Under the hazels: 25 litres.</p></body></html>""",
                MessageId = $"digest-1-{number}@alder-lane.example",
                State = state,
                NextTryAt = Now,
                NotAfter = Now + Duration.FromHours(12),
                CreatedAt = Now - Duration.FromMinutes(19),
                SentAt = state == MailState.Sent ? Now - Duration.FromMinutes(18) : null,
                LastError = state == MailState.Failed ? "550 no such mailbox" : null,
            });
        }

        await store.SaveChangesAsync();
        Mail = store.Outbox.Min(mail => mail.Id);
    }

    private async Task WebhookAsync(FruitWatchStore store)
    {
        var webhook = new Webhook
        {
            CooperativeId = Cooperative,
            Name = "Display in the old barn",
            Address = "https://barn.example.org/fruitwatch",
            Events = "notice.opened notice.closed round.done",
            SealedSecret = "",
            Active = false,
            StoppedWhy = "gone",
            FailingSince = Now - Duration.FromDays(2),
            MadeAt = Now - Duration.FromDays(90),
        };
        store.Webhooks.Add(webhook);
        await store.SaveChangesAsync();
        var delivery = new WebhookDelivery
        {
            CooperativeId = Cooperative,
            WebhookId = webhook.Id,
            MessageId = "msg_0d9b4c7a12e8f35d60b1a4c97e2f8d5360a7c1e4",
            Event = "notice.opened",
            Body = """{"type":"notice.opened","timestamp":"2026-10-12T04:00:09Z","data":{"cooperativeId":1,"siteId":1,"bedId":1,"noticeId":1,"resource":"/api/v1/notices/1"}}""",
            State = DeliveryState.Failed,
            Attempts = 1,
            NextTryAt = Now - Duration.FromDays(2),
            MadeAt = Now - Duration.FromDays(2),
            LastStatus = 410,
            LastError = "gone",
        };
        store.WebhookDeliveries.Add(delivery);
        await store.SaveChangesAsync();
        (Webhook, Delivery) = (webhook.Id, delivery.Id);
    }

    private async Task TrialAsync(FruitWatchStore store)
    {
        const string file = "date,tmax_c,tmin_c,rain_mm\n2026-10-08,18.2,7.1,0.4\n2026-10-09,17.0,6.5,T\n2026-10-11,=1+1,5.5,<script>alert(1)</script>\n2026-10-12,16.1,4.9,12.6\n";
        var draft = new FeedDraft
        {
            Id = new Guid("5d0cbb0e-7a1c-4b35-9f6e-2c1d8a40b7f3"),
            CooperativeId = (await store.Sites.SingleAsync(site => site.Id == AlderLane)).CooperativeId,
            SiteId = AlderLane,
            Title = "Roof of the tool shed",
            Description = FeedPresets.Find("station-daily-csv")!.Json,
            Asked = "shed.csv",
            MediaType = "text/csv",
            Body = FeedAnswers.Pack(System.Text.Encoding.UTF8.GetBytes(file)),
            FetchedAt = Now,
            Good = true,
            MadeAt = Now,
        };
        store.FeedDrafts.Add(draft);
        await store.SaveChangesAsync();
        Trial = draft.Id;
    }

    private static BedRow Bed(Site site, string name, string species, LocalDate made, params (string Material, double Depth)[] layers)
    {
        var bed = new BedRow { SiteId = site.Id, Name = name, SpeciesKey = species, Area = 4, InoculatedOn = made, MulchCm = 2, MulchMaterialKey = "cereal-straw", Cover = Cover.None };
        bed.Layers.AddRange(layers.Select(layer => new BedLayer { MaterialKey = layer.Material, Depth = layer.Depth, LaidOn = made }));
        return bed;
    }

    private static LogRow Log(long bed, LocalDate on, string kind, double? amount = null, string? text = null, string? note = null) =>
        new() { BedId = bed, On = on, Kind = kind, Amount = amount, Text = text, Note = note, RecordedAt = Now };

    private static IssuedNotice Notice(long site, long bed, int episode, NoticeDraft draft) =>
        NoticeRows.Open(site, bed, new NoticeOpened(draft.Kind, episode, draft), Today.PlusDays(-1), Now);

    private static IssuedNotice Closed(IssuedNotice row, NoticeEnd how, ClosingCode why)
    {
        row.Episode += 10;
        NoticeRows.Close(row, new NoticeClosed(NoticeRows.KindOf(row.Kind), row.Id, how, why), Today.PlusDays(-2), Now);
        return row;
    }
}
