using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Cooperatives;

/// <summary>A row of a cooperative in each table that has none of it yet.</summary>
internal static class Everything
{
    public static async Task FillAsync(FruitWatchStore store, long cooperativeId, long personId)
    {
        var at = Instant.FromUtc(2026, 10, 14, 6, 0);
        var person = await store.People.SingleAsync(row => row.Id == personId);
        var site = await store.Sites.Where(row => row.CooperativeId == cooperativeId).OrderBy(row => row.Id).FirstAsync();
        var bed = await store.Beds.Where(row => row.SiteId == site.Id).OrderBy(row => row.Id).FirstOrDefaultAsync()
            ?? await store.Beds.Where(row => store.Sites.Any(one => one.Id == row.SiteId && one.CooperativeId == cooperativeId)).OrderBy(row => row.Id).FirstAsync();
        var feed = await store.Feeds.Where(row => row.CooperativeId == cooperativeId).OrderBy(row => row.Id).FirstAsync();
        if (!await store.PersonSites.AnyAsync(row => row.PersonId == personId && row.SiteId == site.Id))
            store.Add(new PersonSite { PersonId = personId, SiteId = site.Id });
        if (!await store.PersonBedsLeftOut.AnyAsync(row => row.PersonId == personId && row.BedId == bed.Id))
            store.Add(new PersonBedLeftOut { PersonId = personId, BedId = bed.Id });
        if (!await store.BedGrowers.AnyAsync(row => row.PersonId == personId && row.BedId == bed.Id))
            store.Add(new BedGrower { PersonId = personId, BedId = bed.Id });
        store.Add(new Invitation { CooperativeId = cooperativeId, PersonId = personId, Hash = $"invitation-{personId}", SentAt = at, ExpiresAt = at });
        store.Add(new PersonalLink { CooperativeId = cooperativeId, PersonId = personId, Name = "Phone", Hash = $"link-{personId}", MadeAt = at, ExpiresAt = at });
        store.Add(new ApiToken { CooperativeId = cooperativeId, PersonId = personId, Name = "Program", Hash = "x", Scopes = "read", MadeAt = at, ExpiresAt = at });
        store.Add(new CalendarFeed { CooperativeId = cooperativeId, PersonId = personId, SiteId = site.Id, Name = "Wall", Hash = $"calendar-{personId}", MadeAt = at });
        store.Add(new IdempotentRequest { Caller = $"token:{personId}", Key = "k", CooperativeId = cooperativeId, Fingerprint = "f", StartedAt = at, Body = person.Name });
        store.Add(new AuditEntry { CooperativeId = cooperativeId, PersonId = personId, At = at, Via = "test", Action = "bed.changed", SubjectId = "1" });
        if (!await store.SiteFeeds.AnyAsync(row => row.SiteId == site.Id && row.FeedId == feed.Id))
            store.Add(new SiteFeed { SiteId = site.Id, FeedId = feed.Id, FirstTriedAt = at, NextTryAt = at });
        if (!await store.Backfills.AnyAsync(row => row.SiteId == site.Id && row.FeedId == feed.Id))
            store.Add(new Backfill { SiteId = site.Id, FeedId = feed.Id, First = new LocalDate(2020, 1, 1), Last = new LocalDate(2026, 1, 1), Next = new LocalDate(2026, 1, 1), StartedAt = at, NextTryAt = at });
        store.Add(new FeedAnswer { FeedId = feed.Id, Place = $"place-{personId}", Asked = "https://example.org/", MediaType = "text/csv", Body = [1], FetchedAt = at, CheckedAt = at });
        store.Add(new FeedDraft { Id = Guid.NewGuid(), CooperativeId = cooperativeId, SiteId = site.Id, FeedId = feed.Id, Title = "Draft", Description = "{}", MadeAt = at });
        var hook = new Webhook { CooperativeId = cooperativeId, Name = "Hook", Address = "https://example.org/", Events = "bed.made", SealedSecret = "s", MadeAt = at };
        store.Add(hook);
        var notice = new IssuedNotice { SiteId = site.Id, BedId = bed.Id, Kind = "spent", Episode = 900 + (int)personId, Confidence = "firm", Reason = "{}", IssuedAt = at };
        store.Add(notice);
        var mail = new OutgoingMail
        {
            Key = $"everything:{personId}",
            CooperativeId = cooperativeId,
            PersonId = personId,
            ToName = person.Name,
            ToAddress = person.Email,
            Subject = $"For {person.Name}",
            TextBody = $"Hello {person.Name}",
            HtmlBody = $"<p>Hello {person.Name}</p>",
            MessageId = $"everything.{personId}@example.org",
            NextTryAt = at,
            NotAfter = at + Duration.FromDays(1),
            CreatedAt = at,
        };
        store.Add(mail);
        // What the service itself sends belongs to no cooperative.
        store.Add(new OutgoingMail
        {
            Key = $"password:{personId}",
            ToName = person.Name,
            ToAddress = person.Email,
            Subject = "New password",
            TextBody = "x",
            HtmlBody = "x",
            MessageId = $"password.{personId}@example.org",
            NextTryAt = at,
            NotAfter = at + Duration.FromDays(1),
            CreatedAt = at,
        });
        await store.SaveChangesAsync();
        store.Add(new WebhookDelivery { CooperativeId = cooperativeId, WebhookId = hook.Id, MessageId = "m", Event = "bed.made", Body = "{}", NextTryAt = at, MadeAt = at });
        store.Add(new DigestNotice { MailId = mail.Id, NoticeId = notice.Id });
        store.Add(new MailDeed { CooperativeId = cooperativeId, PersonId = personId, NoticeId = notice.Id, Nonce = $"deed-{personId}", Deed = "snooze", At = at });
        store.Add(new Bounce { CooperativeId = cooperativeId, PersonId = personId, MailId = mail.Id, At = at, Status = "5.1.1", Detail = $"no {person.Name} here" });
        // Entries that name each other, on both sides of each other's keys.
        var first = new LogEntry { BedId = bed.Id, On = bed.InoculatedOn, Kind = "no-pins", RecordedAt = at };
        var second = new LogEntry { BedId = bed.Id, On = bed.InoculatedOn, Kind = "no-pins", RecordedAt = at };
        store.AddRange(first, second);
        await store.SaveChangesAsync();
        (second.ReplacesId, first.ReplacesId) = (first.Id, second.Id);
        if (!await store.Forecasts.AnyAsync(row => row.SiteId == site.Id))
            store.Add(new ForecastIssue { SiteId = site.Id, FeedId = feed.Id, IssuedAt = at, FetchedAt = at, FirstDay = new LocalDate(2026, 1, 1), Days = 1, Payload = "[]" });
        await store.SaveChangesAsync();
    }
}
