using System.Reflection;
using System.Text.Json;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.EntityFrameworkCore.Metadata;

namespace FruitWatch.Service.Cooperatives;

/// <summary>
/// What of a cooperative is exported and taken in again: tables in an order in which each refers to earlier ones only, with the fields
/// that the store has and in the order in which their classes name them. A new table or field is in it by itself, or is named here as
/// left out; a test holds the two lists against the store.
/// </summary>
internal static class ExportTables
{
    /// <summary>Name and version of the form.</summary>
    public const string Schema = "fruitwatch-cooperative/1";

    /// <summary>Fields that mean nothing elsewhere, or are secrets.</summary>
    public static readonly IReadOnlySet<(Type Table, string Field)> LeftOut = new HashSet<(Type, string)>
    {
        // About calendars that were made elsewhere.
        (typeof(Site), nameof(Site.Renamings)), (typeof(Site), nameof(Site.RenamedAt)), (typeof(Bed), nameof(Bed.Renamings)), (typeof(Bed), nameof(Bed.RenamedAt)),
        // The provider's key, sealed with keys of this service.
        (typeof(Feed), nameof(Feed.SealedKey)),
        // How somebody signs in, and whether they are let in: nobody is, elsewhere, before they are invited there.
        (typeof(Person), nameof(Person.AccountId)), (typeof(Person), nameof(Person.EmailNormalized)),
        (typeof(Person), nameof(Person.EmailConfirmedAt)), (typeof(Person), nameof(Person.Active)),
        // About an address, which is to be confirmed anew; and somebody who may not have been taken in yet.
        (typeof(Person), nameof(Person.MailPausedAt)), (typeof(Person), nameof(Person.MailPausedWhy)), (typeof(Person), nameof(Person.DeputyId)),
        // Taken in, a webhook is off and has a new secret.
        (typeof(Webhook), nameof(Webhook.SealedSecret)), (typeof(Webhook), nameof(Webhook.SealedOldSecret)), (typeof(Webhook), nameof(Webhook.OldSecretUntil)),
        (typeof(Webhook), nameof(Webhook.Active)), (typeof(Webhook), nameof(Webhook.StoppedWhy)), (typeof(Webhook), nameof(Webhook.FailingSince)),
        (typeof(Webhook), nameof(Webhook.MadeAt)),
    };

    /// <summary>Tables that are not exported: what is on its way, what can be asked for again, secrets, and what this service did.</summary>
    public static readonly IReadOnlySet<Type> LeftOutTables = new HashSet<Type>
    {
        typeof(FeedDraft), typeof(FeedAnswer), typeof(SiteFeed), typeof(Backfill), typeof(OutgoingMail), typeof(DigestNotice), typeof(Invitation), typeof(MailDeed), typeof(CalendarFeed), typeof(Bounce),
        typeof(PersonalLink), typeof(ApiToken), typeof(IdempotentRequest), typeof(WebhookDelivery), typeof(AuditEntry),
    };

    /// <summary>Fields that hold JSON, and are written as such.</summary>
    private static readonly HashSet<(Type, string)> s_json =
    [
        (typeof(Feed), nameof(Feed.Description)), (typeof(ForecastIssue), nameof(ForecastIssue.Payload)),
        (typeof(OutlookIssued), nameof(OutlookIssued.Payload)), (typeof(IssuedNotice), nameof(IssuedNotice.Reason)),
    ];

    private static readonly Dictionary<(Type, string), string> s_units = new()
    {
        [(typeof(Site), nameof(Site.Latitude))] = "°",
        [(typeof(Site), nameof(Site.Longitude))] = "°",
        [(typeof(Site), nameof(Site.Elevation))] = "m",
        [(typeof(Bed), nameof(Bed.Area))] = "m²",
        [(typeof(Bed), nameof(Bed.MulchCm))] = "cm",
        [(typeof(Bed), nameof(Bed.SpawnRate))] = "kg/m²",
        [(typeof(Bed), nameof(Bed.SunOffset))] = "°C",
        [(typeof(BedLayer), nameof(BedLayer.Depth))] = "m",
        [(typeof(LogEntry), nameof(LogEntry.Amount))] = "unit of the kind",
        [(typeof(LogEntry), nameof(LogEntry.Depth))] = "m",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Tmax))] = "°C",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Tmin))] = "°C",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Rain))] = "mm",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Humidity))] = "%",
        [(typeof(WeatherRecord), nameof(WeatherRecord.DewPoint))] = "°C",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Wind))] = "m/s",
        [(typeof(WeatherRecord), nameof(WeatherRecord.Radiation))] = "MJ/m²/d",
        [(typeof(WeatherRecord), nameof(WeatherRecord.FeedEvapotranspiration))] = "mm/d",
        [(typeof(OutlookIssued), nameof(OutlookIssued.Score))] = "0…100",
        [(typeof(IssuedNotice), nameof(IssuedNotice.Amount))] = "L",
    };

    /// <summary>All tables, with the fields that the model has of them.</summary>
    public static IReadOnlyList<ExportTable> Of(IModel model) =>
    [
        Table<Cooperative>(model, "cooperative", store => store.Cooperatives.OrderBy(row => row.Id)),
        Table<Feed>(model, "feeds", store => store.Feeds.OrderBy(row => row.Id)),
        Table<Site>(model, "sites", store => store.Sites.OrderBy(row => row.Id)),
        Table<Person>(model, "people", store => store.People.OrderBy(row => row.Id)),
        Table<PersonSite>(model, "peopleSites", store => store.PersonSites.OrderBy(row => row.PersonId).ThenBy(row => row.SiteId)),
        Table<Bed>(model, "beds", store => store.Beds.OrderBy(row => row.Id)),
        Table<BedLayer>(model, "bedLayers", store => store.BedLayers.OrderBy(row => row.Id)),
        Table<BedGrower>(model, "bedGrowers", store => store.BedGrowers.OrderBy(row => row.BedId).ThenBy(row => row.PersonId)),
        Table<PersonBedLeftOut>(model, "peopleBedsLeftOut", store => store.PersonBedsLeftOut.OrderBy(row => row.PersonId).ThenBy(row => row.BedId)),
        Table<LogEntry>(model, "log", store => store.LogEntries.OrderBy(row => row.Id)),
        Table<WeatherRecord>(model, "weather", store => store.Weather.OrderBy(row => row.SiteId).ThenBy(row => row.FeedId).ThenBy(row => row.Date)),
        Table<ForecastIssue>(model, "forecasts", store => store.Forecasts.OrderBy(row => row.Id)),
        Table<SiteMorning>(model, "mornings", store => store.Mornings.OrderBy(row => row.SiteId).ThenBy(row => row.On)),
        Table<OutlookIssued>(model, "outlooks", store => store.Outlooks.OrderBy(row => row.Id)),
        Table<IssuedNotice>(model, "notices", store => store.Notices.OrderBy(row => row.Id)),
        Table<Webhook>(model, "webhooks", store => store.Webhooks.OrderBy(row => row.Id)),
    ];

    private static ExportTable Table<T>(IModel model, string name, Func<FruitWatchStore, IOrderedQueryable<T>> rows)
        where T : class
    {
        var table = model.FindEntityType(typeof(T))!;
        var columns = typeof(T).GetProperties()
            .Select(property => (Property: property, Kept: table.FindProperty(property.Name)))
            .Where(one => one.Kept is not null && one.Property.Name is not (nameof(IEdited.Version) or nameof(Site.CooperativeId))
                && !LeftOut.Contains((typeof(T), one.Property.Name)) && !(typeof(T) == typeof(Cooperative) && one.Property.Name == nameof(Cooperative.Id)))
            .Select(one => Column(typeof(T), one.Property, one.Kept!)).ToList();
        return new ExportTable(
            name, table, columns, store => rows(store).AsNoTracking(), store => rows(store).Select(row => EF.Property<long>(row, "Id")), () => Activator.CreateInstance<T>());
    }

    private static ExportColumn Column(Type table, PropertyInfo property, IProperty kept)
    {
        var refers = kept.GetContainingForeignKeys().Select(key => key.PrincipalEntityType.ClrType).SingleOrDefault();
        return new ExportColumn(
            JsonNamingPolicy.CamelCase.ConvertName(property.Name),
            property,
            kept.IsNullable,
            property.Name == "Id" ? table : refers,
            property.Name == "Id",
            s_json.Contains((table, property.Name)),
            s_units.GetValueOrDefault((table, property.Name)));
    }
}

/// <summary>A table in an export.</summary>
/// <param name="Name">What it is called there.</param>
/// <param name="Kept">The table in the store.</param>
/// <param name="Columns">Its fields, in order.</param>
/// <param name="Rows">Its rows, in the order in which they are numbered.</param>
/// <param name="KeysOf">The keys of those rows, where they have keys of their own.</param>
/// <param name="New">An empty row.</param>
internal sealed record ExportTable(
    string Name, IEntityType Kept, IReadOnlyList<ExportColumn> Columns, Func<FruitWatchStore, IQueryable<object>> Rows, Func<FruitWatchStore, IQueryable<long>> KeysOf, Func<object> New)
{
    /// <summary>Other tables may refer to its rows.</summary>
    public bool HasKey => Columns.Any(column => column.IsKey);
}

/// <summary>A field in an export.</summary>
/// <param name="Name">What it is called there.</param>
/// <param name="Property">Where it is kept.</param>
/// <param name="Optional">It may be absent.</param>
/// <param name="Refers">The table whose row it names, where it is a key.</param>
/// <param name="IsKey">It is the row's own key.</param>
/// <param name="IsJson">It holds JSON.</param>
/// <param name="Unit">Its unit, where it has one.</param>
internal sealed record ExportColumn(string Name, PropertyInfo Property, bool Optional, Type? Refers, bool IsKey, bool IsJson, string? Unit)
{
    /// <summary>Type of the value, without its being optional.</summary>
    public Type Type => Nullable.GetUnderlyingType(Property.PropertyType) ?? Property.PropertyType;

    /// <summary>A log entry's maker may be named by key: <c>person:12</c>.</summary>
    public bool NamesCaller => Property.DeclaringType == typeof(LogEntry) && Property.Name == nameof(LogEntry.RecordedBy);
}

/// <summary>Keys of rows against their numbers in an export, which begin at 1 in every table.</summary>
internal sealed class ExportKeys
{
    private readonly Dictionary<Type, Dictionary<long, long>> known = [];

    public void Add(Type table, long from, long to)
    {
        if (!known.TryGetValue(table, out var keys))
            known[table] = keys = [];
        keys.Add(from, to);
    }

    /// <summary>The other key; null where there is none.</summary>
    public long? Find(Type table, long from) => known.GetValueOrDefault(table)?.TryGetValue(from, out var to) == true ? to : null;
}
