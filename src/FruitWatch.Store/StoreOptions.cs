namespace FruitWatch.Store;

/// <summary>Where the store is. Bound from the configuration section <c>Store</c>.</summary>
public sealed class StoreOptions
{
    /// <summary><c>sqlite</c> (default) or <c>postgres</c>.</summary>
    public string Provider { get; set; } = "sqlite";

    /// <summary>Folder of the SQLite file; made at first start. Needed for SQLite unless <see cref="ConnectionString"/> is given.</summary>
    public string? DataFolder { get; set; }

    /// <summary>Connection string of the provider; needed for PostgreSQL.</summary>
    public string? ConnectionString { get; set; }

    /// <summary>Longest that bringing the tables up to date may take, waiting for others included. Default 10 minutes.</summary>
    public TimeSpan UpgradeWithin { get; set; } = TimeSpan.FromMinutes(10);
}
