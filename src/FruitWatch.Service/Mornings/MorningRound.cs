using FruitWatch.Model.Verification;
using FruitWatch.Model.Weather;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Mornings;

/// <summary>
/// The morning round of a site: pull the weather, run the beds, issue the outlook, reconcile the notices. What it decides is
/// saved in one transaction together with the fact that it was done, so that a round happens once or not at all.
/// </summary>
internal sealed class MorningRound(
    StoreFactory stores, WeatherPull weather, SiteBooks books, IClock clock, ILogger<MorningRound> log)
{
    /// <summary>Does the round of a day unless it was done.</summary>
    /// <returns>Whether this call did it.</returns>
    public async Task<bool> RunAsync(DueMorning due, CancellationToken stop)
    {
        await using var store = stores.CreateDbContext();
        if (await store.Mornings.AnyAsync(m => m.SiteId == due.SiteId && m.On == due.Day, stop))
            return false;

        // Before the transaction: the network may take its time, and what it brings is worth keeping in any case.
        var pulled = await weather.PullAsync(store, due.SiteId, stop);
        var site = (await books.OpenAsync(store, [due.SiteId], stop)).SingleOrDefault();
        if (site is null || site.Today != due.Day)
            return false;

        // Before the transaction as well: others write meanwhile, and what is written here bears the moment of its writing.
        var mornings = BedOutlooks.Mornings(site);
        var expected = ExpectedByRuleOfThumb(site);
        await using var transaction = await store.Database.BeginTransactionAsync(stop);
        var morning = new SiteMorning
        {
            SiteId = due.SiteId,
            On = due.Day,
            DoneAt = clock.GetCurrentInstant(),
            Late = due.Late,
            ForecastIssueId = site.Forecast?.Id,
            ForecastIssuedAt = site.Forecast?.IssuedAt,
            FeedState = pulled.State,
            Note = pulled.Note,
        };
        if (!await store.AddIfNewAsync(morning, stop))
            return false;

        store.Outlooks.AddRange(site.Beds
            .Select(bed => OutlookRows.Of(site, bed, mornings.GetValueOrDefault(bed.Row.Id)?.Outlook, expected, morning.DoneAt))
            .OfType<OutlookIssued>());
        var counts = await NoticeRound.ReconcileAsync(store, site, mornings, morning.DoneAt, stop);
        await WebhookEvents.AddAsync(store, morning.DoneAt, site.Row.CooperativeId, [Done(due)], stop);
        await transaction.CommitAsync(stop);
        log.LogInformation(
            "Morning round of site {Site} on {Day}: feeds {Feeds}, {Beds} beds, {Opened} notices opened, {Closed} closed",
            due.SiteId, due.Day, pulled.State, site.Beds.Count, counts.Opened, counts.Closed);
        return true;
    }

    private static Happening Done(DueMorning due) => new(
        WebhookEvents.RoundDone,
        FormattableString.Invariant($"{due.SiteId}/{due.Day:uuuu-MM-dd}"),
        FormattableString.Invariant($"sites/{due.SiteId}"))
    { SiteId = due.SiteId, On = due.Day };

    /// <summary>What the rule of thumb says of the week before; null where the site's weather does not reach so far back.</summary>
    private static bool? ExpectedByRuleOfThumb(SiteBook site)
    {
        List<WeatherDay> week = [.. Enumerable.Range(1, 7).Select(back => site.On(site.Today.PlusDays(back - 8))).OfType<WeatherDay>()];
        return week.Count == 7 ? RuleOfThumb.ExpectsPins(week) : null;
    }
}
