using System.ComponentModel;
using FruitWatch.Model.Account;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.EntityFrameworkCore;
using Microsoft.Net.Http.Headers;
using NodaTime;

namespace FruitWatch.Service.Beds;

/// <summary>How a bed stands, day by day, in the web API.</summary>
internal static class BedAccountApi
{
    private const int MostDays = 1100;

    public static void MapBedAccounts(this IEndpointRouteBuilder api)
    {
        var beds = api.MapGroup("/beds").WithTags("Beds").Needs(Right.ReadBeds);
        beds.MapGet("{id:long}/today", TodayAsync).WithName("GetBedToday").WithSummary("How a bed stands today, and what comes next.")
            .Refusing(404);
        beds.MapGet("{id:long}/account", AccountAsync).WithName("GetBedAccount")
            .WithSummary("A bed's account, day by day to the end of the forecast. As CSV with Accept: text/csv or format=csv.")
            .Giving<AccountBody>("application/json", "text/csv").Refusing(400, 404);
    }

    /// <summary>The book of a bed with that of its site; null where there is no such bed, or it is retired.</summary>
    public static async Task<(SiteBook Site, BedBook Bed)?> OpenAsync(
        long id, FruitWatchStore store, SiteBooks books, CancellationToken stop)
    {
        var siteId = await store.Beds.Where(bed => bed.Id == id && bed.RetiredOn == null).Select(bed => (long?)bed.SiteId).SingleOrDefaultAsync(stop);
        if (siteId is null)
            return null;
        var site = (await books.OpenAsync(store, [siteId.Value], stop)).Single();
        return (site, site.Beds.Single(bed => bed.Row.Id == id));
    }

    private static async Task<Results<Ok<BedTodayBody>, ProblemHttpResult>> TodayAsync(
        [Description("Key of the bed.")] long id, FruitWatchStore store, SiteBooks books, HttpContext context) =>
        await OpenAsync(id, store, books, context.RequestAborted) is { } open
            ? TypedResults.Ok(BedTodayBody.Of(open.Site, open.Bed))
            : ApiProblems.NotFound("watched bed", id);

    private static async Task<IResult> AccountAsync(
        [Description("Key of the bed.")] long id,
        [Description("First day; 90 days ago where left out.")] string? from,
        [Description("Last day; the forecast's last where left out.")] string? to,
        [Description("json or csv, before what Accept says.")] string? format,
        FruitWatchStore store,
        SiteBooks books,
        HttpContext context)
    {
        var errors = new Dictionary<string, string[]>();
        var first = ApiText.Day("from", from, errors);
        var last = ApiText.Day("to", to, errors);
        if (format is not (null or "json" or "csv"))
            errors["format"] = ["Expected json or csv."];
        if (last < first)
            errors["to"] = ["Lies before from."];
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);
        if (await OpenAsync(id, store, books, context.RequestAborted) is not { } open)
            return ApiProblems.NotFound("watched bed", id);

        var begin = first ?? open.Site.Today.PlusDays(-90);
        var end = last ?? LocalDate.Max(begin, open.Site.LastDay ?? open.Site.Today);
        if (Period.DaysBetween(begin, end) >= MostDays)
            return ApiProblems.Field("from", $"At most {MostDays} days at a time.");
        var days = (open.Bed.Account?.Days ?? []).Where(day => day.Date >= begin && day.Date <= end)
            .Select(day => AccountDayBody.Of(day, open.Site.Today, open.Site.SourcesOf(day.Date)));
        context.Response.Headers.Vary = HeaderNames.Accept;
        return WantsCsv(format, context.Request)
            ? Results.Text(AccountCsv.Write(days), "text/csv; charset=utf-8")
            : Results.Ok(new AccountBody(id, open.Site.Row.ZoneId, open.Site.Today, open.Bed.Problem, [.. days]));
    }

    private static bool WantsCsv(string? format, HttpRequest request)
    {
        if (format is not null)
            return format == "csv";
        return MediaTypeHeaderValue.TryParseList(request.Headers.Accept, out var wanted)
            && wanted.OrderByDescending(type => type.Quality ?? 1).Select(type => type.MediaType.Value)
                .FirstOrDefault(type => type is "text/csv" or "application/json" or "*/*") == "text/csv";
    }
}

/// <summary>How a bed stands.</summary>
[Description("How a bed stands today by its account, and what the account and the forecast bring next.")]
internal sealed record BedTodayBody(
    [property: Description("Key of the bed.")] long BedId,
    [property: Description("The site's local day.")] LocalDate Today,
    [property: Description("The site's time zone.")] string ZoneId,
    [property: Description("Today's line of the account; null where there is none.")] AccountDayBody? Day,
    [property: Description("Why there is none.")] AccountProblem Problem,
    [property: Description("First day with pins within the forecast. A likely day, not a promise; says nothing of what is safe to eat.")] LocalDate? NextPins,
    [property: Description("First day of picking within the forecast. A likely day, not a promise; says nothing of what is safe to eat.")] LocalDate? NextHarvest,
    [property: Description("When the forecast was issued; null where there is none.")] Instant? ForecastIssuedAt,
    [property: Description("Whether the forecast is too old to rely on.")] bool ForecastStale)
{
    public static BedTodayBody Of(SiteBook site, BedBook bed) => new(
        bed.Row.Id,
        site.Today,
        site.Row.ZoneId,
        bed.Account?.On(site.Today) is { } day ? AccountDayBody.Of(day, site.Today, site.SourcesOf(day.Date)) : null,
        bed.Problem,
        bed.Next(AccountEvent.Pins, site.Today),
        bed.Next(AccountEvent.Harvest, site.Today),
        site.Forecast?.IssuedAt,
        site.Forecast?.IsStale ?? false);
}

/// <summary>A stretch of a bed's account.</summary>
[Description("A stretch of a bed's account.")]
internal sealed record AccountBody(
    [property: Description("Key of the bed.")] long BedId,
    [property: Description("The site's time zone: days are its local days.")] string ZoneId,
    [property: Description("The site's local day; from it on, days are forecast.")] LocalDate Today,
    [property: Description("Why there are no days.")] AccountProblem Problem,
    [property: Description("The days, in order.")] IReadOnlyList<AccountDayBody> Days);
