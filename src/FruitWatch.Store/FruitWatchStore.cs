using FruitWatch.Store.Entities;
using FruitWatch.Store.Mapping;
using Microsoft.AspNetCore.DataProtection.EntityFrameworkCore;
using Microsoft.AspNetCore.Identity;
using Microsoft.AspNetCore.Identity.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.ChangeTracking;

namespace FruitWatch.Store;

/// <summary>
/// Everything that FruitWatch keeps. The same tables in SQLite and in PostgreSQL: a derived context for each holds nothing but its
/// migrations. A context serves one piece of work and one thread; take it from the <see cref="StoreFactory"/>.
/// </summary>
/// <remarks>
/// In queries compare and order NodaTime values as they are; their members (<c>.Year</c>, <c>.PlusDays</c>) do not translate, so
/// compute bounds beforehand.
/// </remarks>
public abstract class FruitWatchStore : IdentityUserContext<Account, long>, IDataProtectionKeyContext
{
    private protected FruitWatchStore(DbContextOptions options, Reach reach)
        : base(options) => Reach = reach;

    /// <summary>For whom it was opened. Every query and every change stays within.</summary>
    public Reach Reach { get; }

    /// <summary>What people sign in with.</summary>
    public DbSet<Account> Accounts => Users;

    /// <summary>Sign-ins that failed of late.</summary>
    public DbSet<SignInPace> SignInPaces => Set<SignInPace>();

    /// <summary>Members to be.</summary>
    public DbSet<Invitation> Invitations => Set<Invitation>();

    /// <summary>Links that farm hands work from.</summary>
    public DbSet<PersonalLink> PersonalLinks => Set<PersonalLink>();

    /// <summary>Tokens of programs.</summary>
    public DbSet<ApiToken> ApiTokens => Set<ApiToken>();

    /// <summary>Who did what.</summary>
    public DbSet<AuditEntry> Audit => Set<AuditEntry>();

    /// <summary>Writes that may be sent again.</summary>
    public DbSet<IdempotentRequest> IdempotentRequests => Set<IdempotentRequest>();

    /// <summary>Programs that are told.</summary>
    public DbSet<Webhook> Webhooks => Set<Webhook>();

    /// <summary>What they are told.</summary>
    public DbSet<WebhookDelivery> WebhookDeliveries => Set<WebhookDelivery>();

    /// <summary>Which beds are whose.</summary>
    public DbSet<BedGrower> BedGrowers => Set<BedGrower>();

    /// <summary>The service's own keys: for forms, sessions, links and what is kept encrypted.</summary>
    public DbSet<DataProtectionKey> DataProtectionKeys => Set<DataProtectionKey>();

    /// <summary>Cooperatives.</summary>
    public DbSet<Cooperative> Cooperatives => Set<Cooperative>();

    /// <summary>Sites.</summary>
    public DbSet<Site> Sites => Set<Site>();

    /// <summary>Beds, retired ones too.</summary>
    public DbSet<Bed> Beds => Set<Bed>();

    /// <summary>Fillings of beds.</summary>
    public DbSet<BedLayer> BedLayers => Set<BedLayer>();

    /// <summary>The log, undone entries too.</summary>
    public DbSet<LogEntry> LogEntries => Set<LogEntry>();

    /// <summary>Weather feeds.</summary>
    public DbSet<Feed> Feeds => Set<Feed>();

    /// <summary>How each feed has been answering for each site.</summary>
    public DbSet<SiteFeed> SiteFeeds => Set<SiteFeed>();

    /// <summary>The last good answers as they came.</summary>
    public DbSet<FeedAnswer> FeedAnswers => Set<FeedAnswer>();

    /// <summary>Hosts, with the pauses they asked for.</summary>
    public DbSet<FeedHost> FeedHosts => Set<FeedHost>();

    /// <summary>Descriptions that are being tried.</summary>
    public DbSet<FeedDraft> FeedDrafts => Set<FeedDraft>();

    /// <summary>Past years being fetched.</summary>
    public DbSet<Backfill> Backfills => Set<Backfill>();

    /// <summary>Days of weather, by site and feed.</summary>
    public DbSet<WeatherRecord> Weather => Set<WeatherRecord>();

    /// <summary>Forecasts as they were issued.</summary>
    public DbSet<ForecastIssue> Forecasts => Set<ForecastIssue>();

    /// <summary>Rounds done.</summary>
    public DbSet<SiteMorning> Mornings => Set<SiteMorning>();

    /// <summary>Outlooks as they were issued.</summary>
    public DbSet<OutlookIssued> Outlooks => Set<OutlookIssued>();

    /// <summary>Notices, closed ones too.</summary>
    public DbSet<IssuedNotice> Notices => Set<IssuedNotice>();

    /// <summary>People.</summary>
    public DbSet<Person> People => Set<Person>();

    /// <summary>Who is told about which site.</summary>
    public DbSet<PersonSite> PersonSites => Set<PersonSite>();

    /// <summary>Who is not told of which bed.</summary>
    public DbSet<PersonBedLeftOut> PersonBedsLeftOut => Set<PersonBedLeftOut>();

    /// <summary>The outbox, with what became of each mail.</summary>
    public DbSet<OutgoingMail> Outbox => Set<OutgoingMail>();

    /// <summary>Which mail told of which notice.</summary>
    public DbSet<DigestNotice> DigestNotices => Set<DigestNotice>();

    /// <summary>What was told to the service from mails.</summary>
    public DbSet<MailDeed> MailDeeds => Set<MailDeed>();

    /// <summary>Calendars that are read elsewhere.</summary>
    public DbSet<CalendarFeed> CalendarFeeds => Set<CalendarFeed>();

    /// <summary>Mails that came back.</summary>
    public DbSet<Bounce> Bounces => Set<Bounce>();

    /// <summary>Values that the service keeps for itself.</summary>
    public DbSet<Setting> Settings => Set<Setting>();

    /// <inheritdoc/>
    protected override Version SchemaVersion => IdentitySchemaVersions.Version3;

    /// <inheritdoc/>
    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        RaiseVersions();
        Reach.Hold(ChangeTracker);
        var changes = AuditTrail.Read(this);
        if (changes.Count == 0)
            return base.SaveChanges(acceptAllChangesOnSuccess);
        using var own = Database.CurrentTransaction is null ? Database.BeginTransaction() : null;
        var saved = base.SaveChanges(acceptAllChangesOnSuccess);
        AuditTrail.Write(this, changes);
        base.SaveChanges(acceptAllChangesOnSuccess);
        WebhookEvents.AddAsync(this, Reach.Clock!.GetCurrentInstant(), Reach.CooperativeId, WebhookEvents.Of(changes)).GetAwaiter().GetResult();
        own?.Commit();
        return saved;
    }

    /// <inheritdoc/>
    public override async Task<int> SaveChangesAsync(bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        RaiseVersions();
        Reach.Hold(ChangeTracker);
        var changes = AuditTrail.Read(this);
        if (changes.Count == 0)
            return await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        // What was done, who did it and whom it is told stand or fall together; the keys of new rows are known after they were written only.
        await using var own = Database.CurrentTransaction is null ? await Database.BeginTransactionAsync(cancellationToken) : null;
        var saved = await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        AuditTrail.Write(this, changes);
        await base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
        await WebhookEvents.AddAsync(this, Reach.Clock!.GetCurrentInstant(), Reach.CooperativeId, WebhookEvents.Of(changes), cancellationToken);
        if (own is not null)
            await own.CommitAsync(cancellationToken);
        return saved;
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.KeepTimes();
        configurationBuilder.KeepWords();
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder builder)
    {
        base.OnModelCreating(builder);
        Tables.Describe(builder);
        Bounds.Describe(builder, this);
    }

    // From the version that the editor had read, so that a save that is tried again raises it once.
    private void RaiseVersions()
    {
        foreach (var entry in ChangeTracker.Entries<IEdited>())
        {
            if (entry.State != EntityState.Modified) continue;
            var version = entry.Property(row => row.Version);
            version.CurrentValue = version.OriginalValue + 1;
        }

        foreach (var entry in ChangeTracker.Entries<INamed>())
        {
            if (entry.State != EntityState.Modified || !IsRenamed(entry)) continue;
            var renamings = entry.Property(row => row.Renamings);
            renamings.CurrentValue = renamings.OriginalValue + 1;
            entry.Entity.RenamedAt = Reach.Clock?.GetCurrentInstant() ?? entry.Entity.RenamedAt;
        }
    }

    // What a bed grows decides what is said about eating beside its notices.
    private static bool IsRenamed(EntityEntry<INamed> entry) =>
        entry.Property(row => row.Name).IsModified || (entry.Entity is Bed && entry.Property(nameof(Bed.SpeciesKey)).IsModified);
}
