using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Mapping;

/// <summary>
/// The rule that keeps cooperatives apart, and members from what is not theirs: a filter in every query of every table, see
/// <see cref="Reach"/>. A table without a rule here fails a test.
/// </summary>
internal static class Bounds
{
    public static void Describe(ModelBuilder model, FruitWatchStore store)
    {
        model.Entity<Cooperative>().HasQueryFilter(row => store.Reach.Unbounded || row.Id == store.Reach.CooperativeId);
        Places(model, store);
        WeatherKept(model, store);
        PeopleAndMail(model, store);
        Programs(model, store);
    }

    private static void Places(ModelBuilder model, FruitWatchStore store)
    {
        model.Entity<Site>().HasQueryFilter(row => store.Reach.Unbounded
            || (row.CooperativeId == store.Reach.CooperativeId
                && (!store.Reach.OwnSitesOnly || store.PersonSites.Any(told => told.SiteId == row.Id && told.PersonId == store.Reach.PersonId))));
        model.Entity<Bed>().HasQueryFilter(row => store.Reach.Unbounded
            || (store.Sites.Any(site => site.Id == row.SiteId)
                && (!store.Reach.OwnBedsOnly || store.BedGrowers.Any(own => own.BedId == row.Id && own.PersonId == store.Reach.PersonId))));
        model.Entity<BedLayer>().HasQueryFilter(row => store.Reach.Unbounded || store.Beds.Any(bed => bed.Id == row.BedId));
        model.Entity<LogEntry>().HasQueryFilter(row => store.Reach.Unbounded || store.Beds.Any(bed => bed.Id == row.BedId));
        model.Entity<OutlookIssued>().HasQueryFilter(row => store.Reach.Unbounded || store.Beds.Any(bed => bed.Id == row.BedId));
        model.Entity<IssuedNotice>().HasQueryFilter(row => store.Reach.Unbounded
            || (row.BedId == null ? store.Sites.Any(site => site.Id == row.SiteId) : store.Beds.Any(bed => bed.Id == row.BedId)));
        model.Entity<SiteMorning>().HasQueryFilter(row => store.Reach.Unbounded || store.Sites.Any(site => site.Id == row.SiteId));
    }

    private static void WeatherKept(ModelBuilder model, FruitWatchStore store)
    {
        model.Entity<Feed>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<FeedDraft>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<FeedAnswer>().HasQueryFilter(row => store.Reach.Unbounded || store.Feeds.Any(feed => feed.Id == row.FeedId));
        model.Entity<WeatherRecord>().HasQueryFilter(row => store.Reach.Unbounded || store.Sites.Any(site => site.Id == row.SiteId));
        model.Entity<ForecastIssue>().HasQueryFilter(row => store.Reach.Unbounded || store.Sites.Any(site => site.Id == row.SiteId));
        model.Entity<SiteFeed>().HasQueryFilter(row => store.Reach.Unbounded || store.Sites.Any(site => site.Id == row.SiteId));
        model.Entity<Backfill>().HasQueryFilter(row => store.Reach.Unbounded || store.Sites.Any(site => site.Id == row.SiteId));
    }

    private static void PeopleAndMail(ModelBuilder model, FruitWatchStore store)
    {
        model.Entity<Person>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<PersonSite>().HasQueryFilter(row => store.Reach.Unbounded || store.People.Any(person => person.Id == row.PersonId));
        model.Entity<PersonBedLeftOut>().HasQueryFilter(row => store.Reach.Unbounded || store.People.Any(person => person.Id == row.PersonId));
        model.Entity<BedGrower>().HasQueryFilter(row => store.Reach.Unbounded || store.People.Any(person => person.Id == row.PersonId));
        model.Entity<OutgoingMail>().HasQueryFilter(row => store.Reach.Unbounded
            || (row.CooperativeId == store.Reach.CooperativeId && (!store.Reach.OwnMailsOnly || row.PersonId == store.Reach.PersonId)));
        model.Entity<MailDeed>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<CalendarFeed>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<Bounce>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<DigestNotice>().HasQueryFilter(row => store.Reach.Unbounded || store.Outbox.Any(mail => mail.Id == row.MailId));
        model.Entity<Invitation>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<PersonalLink>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
    }

    private static void Programs(ModelBuilder model, FruitWatchStore store)
    {
        model.Entity<ApiToken>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<IdempotentRequest>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<Webhook>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<WebhookDelivery>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
        model.Entity<AuditEntry>().HasQueryFilter(row => store.Reach.Unbounded || row.CooperativeId == store.Reach.CooperativeId);
    }
}
