using System.ComponentModel;
using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Verification;

/// <summary>How good the forecasts were, in the web API.</summary>
internal static class VerificationApi
{
    public static void MapVerification(this IEndpointRouteBuilder api) =>
        api.MapGet("/verification", GetAsync).Needs(Right.ReadRecords).WithTags("Verification").WithName("GetVerification")
            .WithSummary("How good the kept forecasts of pins were, by cooperative, site, species and bed. They say nothing of what is safe to eat.")
            .Refusing(400);

    private static async Task<Results<Ok<VerificationBody>, ProblemHttpResult>> GetAsync(
        FruitWatchStore store,
        BedCatalogue catalogue,
        Words words,
        HttpContext context,
        [Description("Only beds of this site.")] string? siteId,
        [Description("Only this bed.")] string? bedId,
        [Description("Only beds of this species, by its key in the catalogue.")] string? speciesKey,
        [Description("Within how many days pins were forecast, the day of issue included: 3, 7, 14 or 30; 7 where left out.")] string? lead)
    {
        var errors = new Dictionary<string, string[]>();
        var asked = new ForecastsAsked(Key("siteId", siteId, errors), Key("bedId", bedId, errors), speciesKey);
        var days = lead is null ? ForecastReport.UsualLead
            : int.TryParse(lead, NumberStyles.None, CultureInfo.InvariantCulture, out var given) ? given : 0;
        if (!ForecastReport.Leads.Contains(days))
            errors["lead"] = [$"Expected one of {string.Join(", ", ForecastReport.Leads)}."];
        if (speciesKey is not null && !catalogue.Species.ContainsKey(speciesKey))
            errors["speciesKey"] = [$"Expected one of {string.Join(", ", catalogue.Species.Keys)}."];
        if (errors.Count > 0)
            return ApiProblems.Fields(errors);

        var report = await ForecastReport.MakeAsync(store, asked, days, context.RequestAborted);
        context.Response.Headers.Vary = $"{HeaderNames.AcceptLanguage}, {HeaderNames.Cookie}";
        return TypedResults.Ok(VerificationBody.Of(report, words, catalogue));
    }

    private static long? Key(string name, string? text, Dictionary<string, string[]> errors)
    {
        if (text is null)
            return null;
        if (long.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out var key))
            return key;
        errors[name] = [$"Expected the key of a {name[..^2]}."];
        return null;
    }
}
