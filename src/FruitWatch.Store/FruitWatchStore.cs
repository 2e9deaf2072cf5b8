using FruitWatch.Store.Entities;
using FruitWatch.Store.Mapping;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Store;

/// <summary>
/// Everything that FruitWatch keeps. The same tables in SQLite and in PostgreSQL: a derived context for each holds nothing but its
/// migrations. A context serves one piece of work and one thread; take it from the <see cref="StoreFactory"/>.
/// </summary>
/// <remarks>
/// In queries compare and order NodaTime values as they are; their members (<c>.Year</c>, <c>.PlusDays</c>) do not translate, so
/// compute bounds beforehand.
/// </remarks>
public abstract class FruitWatchStore : DbContext
{
    private protected FruitWatchStore(DbContextOptions options)
        : base(options)
    {
    }

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

    /// <summary>The outbox, with what became of each mail.</summary>
    public DbSet<OutgoingMail> Outbox => Set<OutgoingMail>();

    /// <summary>Which mail told of which notice.</summary>
    public DbSet<DigestNotice> DigestNotices => Set<DigestNotice>();

    /// <summary>Values that the service keeps for itself.</summary>
    public DbSet<Setting> Settings => Set<Setting>();

    /// <inheritdoc/>
    public override int SaveChanges(bool acceptAllChangesOnSuccess)
    {
        RaiseVersions();
        return base.SaveChanges(acceptAllChangesOnSuccess);
    }

    /// <inheritdoc/>
    public override Task<int> SaveChangesAsync(bool acceptAllChangesOnSuccess, CancellationToken cancellationToken = default)
    {
        RaiseVersions();
        return base.SaveChangesAsync(acceptAllChangesOnSuccess, cancellationToken);
    }

    /// <inheritdoc/>
    protected override void ConfigureConventions(ModelConfigurationBuilder configurationBuilder)
    {
        configurationBuilder.KeepTimes();
        configurationBuilder.KeepWords();
    }

    /// <inheritdoc/>
    protected override void OnModelCreating(ModelBuilder modelBuilder) => Tables.Describe(modelBuilder);

    // From the version that the editor had read, so that a save that is tried again raises it once.
    private void RaiseVersions()
    {
        foreach (var entry in ChangeTracker.Entries<IEdited>())
        {
            if (entry.State != EntityState.Modified) continue;
            var version = entry.Property(row => row.Version);
            version.CurrentValue = version.OriginalValue + 1;
        }
    }
}
