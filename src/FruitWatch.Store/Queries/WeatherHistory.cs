using FruitWatch.Model.Weather;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Store.Queries;

/// <summary>The days of weather that the feeds have told.</summary>
public static class WeatherHistory
{
    private const string Update = """
         ON CONFLICT ("SiteId", "FeedId", "Date") DO UPDATE SET
        "Tmax" = COALESCE(excluded."Tmax", "Weather"."Tmax"),
        "Tmin" = COALESCE(excluded."Tmin", "Weather"."Tmin"),
        "Rain" = COALESCE(excluded."Rain", "Weather"."Rain"),
        "Humidity" = COALESCE(excluded."Humidity", "Weather"."Humidity"),
        "DewPoint" = COALESCE(excluded."DewPoint", "Weather"."DewPoint"),
        "Wind" = COALESCE(excluded."Wind", "Weather"."Wind"),
        "Radiation" = COALESCE(excluded."Radiation", "Weather"."Radiation"),
        "FeedEvapotranspiration" = COALESCE(excluded."FeedEvapotranspiration", "Weather"."FeedEvapotranspiration"),
        "TmaxFrom" = CASE WHEN excluded."Tmax" IS NULL THEN "Weather"."TmaxFrom" ELSE excluded."TmaxFrom" END,
        "TminFrom" = CASE WHEN excluded."Tmin" IS NULL THEN "Weather"."TminFrom" ELSE excluded."TminFrom" END,
        "RainFrom" = CASE WHEN excluded."Rain" IS NULL THEN "Weather"."RainFrom" ELSE excluded."RainFrom" END,
        "IssuedAt" = excluded."IssuedAt",
        "FetchedAt" = excluded."FetchedAt"
        WHERE excluded."FetchedAt" >= "Weather"."FetchedAt"
        """;

    /// <summary>
    /// Puts days as fetched in, or over what was there. The later fetch has the last word on each value; a value that it leaves out
    /// stays, and an answer that comes in late changes nothing. All days or none.
    /// </summary>
    /// <param name="store">Where to.</param>
    /// <param name="siteId">The site.</param>
    /// <param name="feedId">The feed that told them.</param>
    /// <param name="days">The days; each at most once.</param>
    /// <param name="issuedAt">When the feed issued them, or <paramref name="fetchedAt"/> where it does not say.</param>
    /// <param name="fetchedAt">When they were fetched.</param>
    /// <param name="cancellationToken">Stops it.</param>
    /// <returns>How many rows were written.</returns>
    /// <exception cref="ArgumentException">A day is given twice.</exception>
    public static async Task<int> MergeWeatherAsync(
        this FruitWatchStore store,
        long siteId,
        long feedId,
        IReadOnlyList<WeatherDay> days,
        Instant issuedAt,
        Instant fetchedAt,
        CancellationToken cancellationToken = default)
    {
        if (days.GroupBy(day => day.Date).FirstOrDefault(group => group.Skip(1).Any()) is { } twice)
            throw new ArgumentException($"The day {twice.Key} is given more than once.", nameof(days));

        var own = store.Database.CurrentTransaction is null
            ? await store.Database.BeginTransactionAsync(cancellationToken)
            : null;
        await using var _ = own;
        var written = 0;
        foreach (var part in days.Chunk(InsertText.RowsAtOnce))
        {
            var rows = Array.ConvertAll(part, day => WeatherRecord.Of(siteId, feedId, day, issuedAt, fetchedAt));
            var insert = InsertText.For(store, rows);
            var sql = insert.Sql + Update;
            written += await store.Database.ExecuteSqlRawAsync(sql, insert.Parameters, cancellationToken);
        }

        if (own is not null) await own.CommitAsync(cancellationToken);
        return written;
    }

    /// <summary>Days of several sites in one query: by site, each in order of the days. Nothing is tracked.</summary>
    /// <param name="store">Where from.</param>
    /// <param name="siteIds">Which sites.</param>
    /// <param name="from">First day.</param>
    /// <param name="to">Last day, included.</param>
    /// <param name="cancellationToken">Stops it.</param>
    public static async Task<ILookup<long, WeatherRecord>> LoadWeatherAsync(
        this FruitWatchStore store, IReadOnlyCollection<long> siteIds, LocalDate from, LocalDate to, CancellationToken cancellationToken = default)
    {
        var wanted = siteIds.ToArray();
        var days = await store.Weather.AsNoTracking()
            .Where(day => EF.Parameter(wanted).Contains(day.SiteId) && day.Date >= from && day.Date <= to)
            .OrderBy(day => day.SiteId).ThenBy(day => day.Date).ThenBy(day => day.FeedId)
            .ToListAsync(cancellationToken);
        return days.ToLookup(day => day.SiteId);
    }
}
