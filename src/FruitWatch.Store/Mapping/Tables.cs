using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Identity;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store.Mapping;

/// <summary>
/// Keys and references of the tables. What belongs to one owner goes with it; nothing else is deleted along, so that history
/// cannot vanish by the way.
/// </summary>
internal static class Tables
{
    public static void Describe(ModelBuilder model)
    {
        Places(model);
        WeatherKept(model);
        FeedsAsked(model);
        Rounds(model);
        PeopleAndMail(model);
        Reaching(model);
        Accounts(model);
        Programs(model);
        foreach (var table in model.Model.GetEntityTypes())
        {
            if (table.ClrType.IsAssignableTo(typeof(IEdited)))
                model.Entity(table.ClrType).Property(nameof(IEdited.Version)).IsConcurrencyToken();
        }
    }

    private static void Places(ModelBuilder model)
    {
        model.Entity<Site>(site =>
        {
            site.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId).OnDelete(DeleteBehavior.Restrict);
            site.HasOne<Feed>().WithMany().HasForeignKey(row => row.ForecastFeedId).OnDelete(DeleteBehavior.Restrict);
            site.HasOne<Feed>().WithMany().HasForeignKey(row => row.StationFeedId).OnDelete(DeleteBehavior.Restrict);
            site.HasOne<Feed>().WithMany().HasForeignKey(row => row.HistoryFeedId).OnDelete(DeleteBehavior.Restrict);
            site.HasMany(row => row.Beds).WithOne().HasForeignKey(bed => bed.SiteId).OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<Bed>().HasMany(row => row.Layers).WithOne().HasForeignKey(layer => layer.BedId);
        model.Entity<LogEntry>(entry =>
        {
            entry.HasOne<Bed>().WithMany().HasForeignKey(row => row.BedId).OnDelete(DeleteBehavior.Restrict);
            entry.HasOne<LogEntry>().WithMany().HasForeignKey(row => row.ReplacesId).OnDelete(DeleteBehavior.Restrict);
            entry.HasIndex(row => new { row.BedId, row.On });
        });
    }

    private static void WeatherKept(ModelBuilder model)
    {
        model.Entity<Feed>(feed =>
        {
            feed.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId).OnDelete(DeleteBehavior.Restrict);
            feed.HasIndex(row => new { row.CooperativeId, row.Key }).IsUnique();
        });
        model.Entity<WeatherRecord>(day =>
        {
            day.HasKey(row => new { row.SiteId, row.FeedId, row.Date });
            day.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId).OnDelete(DeleteBehavior.Restrict);
            day.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId).OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<ForecastIssue>(issue =>
        {
            issue.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId).OnDelete(DeleteBehavior.Restrict);
            issue.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId).OnDelete(DeleteBehavior.Restrict);
            issue.HasIndex(row => new { row.SiteId, row.FeedId, row.FetchedAt });
        });
    }

    private static void FeedsAsked(ModelBuilder model)
    {
        model.Entity<SiteFeed>(told =>
        {
            told.HasKey(row => new { row.SiteId, row.FeedId });
            told.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId);
            told.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId);
            told.HasIndex(row => row.NextTryAt);
        });
        model.Entity<FeedAnswer>(answer =>
        {
            answer.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId);
            answer.HasIndex(row => new { row.FeedId, row.Place }).IsUnique();
        });
        model.Entity<FeedHost>().HasKey(row => row.Authority);
        model.Entity<FeedDraft>(draft =>
        {
            draft.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            draft.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId);
            draft.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId);
            draft.HasIndex(row => row.MadeAt);
        });
        model.Entity<Backfill>(backfill =>
        {
            backfill.HasKey(row => new { row.SiteId, row.FeedId });
            backfill.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId);
            backfill.HasOne<Feed>().WithMany().HasForeignKey(row => row.FeedId);
            backfill.HasIndex(row => new { row.State, row.NextTryAt });
        });
    }

    private static void Rounds(ModelBuilder model)
    {
        model.Entity<SiteMorning>(morning =>
        {
            morning.HasKey(row => new { row.SiteId, row.On });
            morning.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId).OnDelete(DeleteBehavior.Restrict);
            morning.HasOne<ForecastIssue>().WithMany().HasForeignKey(row => row.ForecastIssueId).OnDelete(DeleteBehavior.Restrict);
            morning.HasOne<ForecastIssue>().WithMany().HasForeignKey(row => row.LookedAtForecastId).OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<OutlookIssued>(outlook =>
        {
            outlook.HasOne<Bed>().WithMany().HasForeignKey(row => row.BedId).OnDelete(DeleteBehavior.Restrict);
            outlook.HasIndex(row => new { row.BedId, row.On }).IsUnique();
        });
        model.Entity<IssuedNotice>(notice =>
        {
            notice.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId).OnDelete(DeleteBehavior.Restrict);
            notice.HasOne<Bed>().WithMany().HasForeignKey(row => row.BedId).OnDelete(DeleteBehavior.Restrict);

            // Two indexes, because a null bed is equal to no other and would let a notice of the site in twice.
            notice.HasIndex(row => new { row.BedId, row.Kind, row.Episode }).IsUnique().HasFilter("\"BedId\" IS NOT NULL");
            notice.HasIndex(row => new { row.SiteId, row.Kind, row.Episode }).IsUnique().HasFilter("\"BedId\" IS NULL");
            notice.HasIndex(row => new { row.SiteId, row.State });
        });
    }

    private static void PeopleAndMail(ModelBuilder model)
    {
        model.Entity<Person>(person =>
        {
            person.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId).OnDelete(DeleteBehavior.Restrict);
            // Farm hands may have no address; any number of them.
            person.HasIndex(row => new { row.CooperativeId, row.EmailNormalized }).IsUnique().HasFilter("\"EmailNormalized\" <> ''");
            person.HasOne<Account>().WithMany().HasForeignKey(row => row.AccountId).OnDelete(DeleteBehavior.SetNull);
            person.HasOne<Person>().WithMany().HasForeignKey(row => row.DeputyId).OnDelete(DeleteBehavior.SetNull);
            person.HasMany(row => row.Sites).WithOne().HasForeignKey(link => link.PersonId);
            person.HasMany(row => row.BedsLeftOut).WithOne().HasForeignKey(link => link.PersonId);
            person.HasMany(row => row.Beds).WithOne().HasForeignKey(own => own.PersonId);
        });
        model.Entity<BedGrower>(own =>
        {
            own.HasKey(row => new { row.BedId, row.PersonId });
            own.HasOne<Bed>().WithMany().HasForeignKey(row => row.BedId);
        });
        model.Entity<PersonSite>(link =>
        {
            link.HasKey(row => new { row.PersonId, row.SiteId });
            link.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId);
        });
        model.Entity<PersonBedLeftOut>(link =>
        {
            link.HasKey(row => new { row.PersonId, row.BedId });
            link.HasOne<Bed>().WithMany().HasForeignKey(row => row.BedId);
        });
        model.Entity<OutgoingMail>(mail =>
        {
            mail.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            mail.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId).OnDelete(DeleteBehavior.SetNull);
            mail.HasIndex(row => row.Key).IsUnique();
            mail.HasIndex(row => row.MessageId).IsUnique();
            mail.HasIndex(row => new { row.State, row.NotAfter });

            // How many have left in the last hour is asked before every batch.
            mail.HasIndex(row => row.SentAt);
        });
        model.Entity<DigestNotice>(told =>
        {
            told.HasKey(row => new { row.MailId, row.NoticeId, row.Role });
            told.HasOne<OutgoingMail>().WithMany().HasForeignKey(row => row.MailId);
            told.HasOne<IssuedNotice>().WithMany().HasForeignKey(row => row.NoticeId).OnDelete(DeleteBehavior.Restrict);
        });
        model.Entity<Setting>().HasKey(row => row.Key);
    }

    private static void Reaching(ModelBuilder model)
    {
        model.Entity<MailDeed>(deed =>
        {
            deed.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            deed.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
            deed.HasOne<IssuedNotice>().WithMany().HasForeignKey(row => row.NoticeId);
            deed.HasOne<LogEntry>().WithMany().HasForeignKey(row => row.LogEntryId).OnDelete(DeleteBehavior.SetNull);
            deed.HasIndex(row => row.Nonce).IsUnique();
        });
        model.Entity<CalendarFeed>(calendar =>
        {
            calendar.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            calendar.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
            calendar.HasOne<Site>().WithMany().HasForeignKey(row => row.SiteId);
            calendar.HasIndex(row => row.Hash).IsUnique();
        });
        model.Entity<Bounce>(bounce =>
        {
            bounce.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            bounce.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
            bounce.HasOne<OutgoingMail>().WithMany().HasForeignKey(row => row.MailId);
            bounce.HasIndex(row => row.MailId).IsUnique();
            bounce.HasIndex(row => new { row.PersonId, row.At });
        });
    }

    private static void Accounts(ModelBuilder model)
    {
        model.Entity<Account>(account =>
        {
            account.ToTable("Accounts");
            // Lock-outs are not used: they would let anybody lock a grower out. See SignInPace.
            account.Ignore(row => row.LockoutEnd);
            account.Ignore(row => row.LockoutEnabled);
            account.Ignore(row => row.AccessFailedCount);
            account.Ignore(row => row.PhoneNumber);
            account.Ignore(row => row.PhoneNumberConfirmed);
        });
        model.Entity<IdentityUserClaim<long>>().ToTable("AccountClaims");
        model.Entity<IdentityUserLogin<long>>().ToTable("AccountLogins");
        model.Entity<IdentityUserToken<long>>().ToTable("AccountTokens");
        model.Entity<IdentityUserPasskey<long>>(passkey =>
        {
            passkey.ToTable("AccountPasskeys");
            passkey.HasKey(row => row.CredentialId);
            passkey.HasOne<Account>().WithMany().HasForeignKey(row => row.UserId);
            passkey.OwnsOne(row => row.Data).ToJson();
        });
        model.Entity<SignInPace>().HasKey(row => row.Key);
        model.Entity<Invitation>(invitation =>
        {
            invitation.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            invitation.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
            invitation.HasIndex(row => row.Hash).IsUnique();
        });
        model.Entity<PersonalLink>(link =>
        {
            link.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            link.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
            link.HasIndex(row => row.Hash).IsUnique();
        });
        model.Entity<AuditEntry>(entry =>
        {
            // No reference to cooperative or person: what was done stays told when they are gone, and names nobody.
            entry.ToTable("Audit");
            entry.HasIndex(row => new { row.CooperativeId, row.Id });
            entry.HasIndex(row => row.At);
        });
    }

    private static void Programs(ModelBuilder model)
    {
        model.Entity<ApiToken>(token =>
        {
            token.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            token.HasOne<Person>().WithMany().HasForeignKey(row => row.PersonId);
        });
        model.Entity<IdempotentRequest>(request =>
        {
            request.HasKey(row => new { row.Caller, row.Key });
            request.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            request.HasIndex(row => row.StartedAt);
        });
        model.Entity<Webhook>().HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
        model.Entity<WebhookDelivery>(delivery =>
        {
            delivery.HasOne<Cooperative>().WithMany().HasForeignKey(row => row.CooperativeId);
            delivery.HasOne<Webhook>().WithMany().HasForeignKey(row => row.WebhookId);
            delivery.HasIndex(row => new { row.WebhookId, row.MessageId }).IsUnique();
            delivery.HasIndex(row => new { row.State, row.NextTryAt });
        });
    }
}
