using FruitWatch.Service.Access;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web;

/// <summary>
/// In which language a page speaks: the one chosen by its switch, else the member's own, else what the browser asks for, else English. The thread's culture
/// is never changed: data is read and written in one form whatever the language, so that 1.5 stays 1.5.
/// </summary>
internal static class Languages
{
    public const string CookieName = "language";

    /// <summary>Words of the request in hand.</summary>
    public static Words Chosen(IServiceProvider services) =>
        services.GetRequiredService<IHttpContextAccessor>().HttpContext is { } context
            // Programs are told SI whatever their owner reads: the API has one form of every number.
            ? Words.For(
                Of(context.Request),
                ApiProblems.Concerns(context.Request) ? Units.Metric
                : context.Features.Get<SpokenTo>()?.Units ?? services.GetRequiredService<Visitor>().Person?.Units ?? Units.Metric)
            : Words.For("en");

    /// <summary>
    /// Speaks to somebody who has not signed in, such as the holder of a link from their mail. To be said before anything of the request
    /// has asked for words.
    /// </summary>
    public static void SpeakTo(HttpContext context, Person person) => context.Features.Set(new SpokenTo(person.Language, person.Units));

    /// <summary>Language of a request.</summary>
    public static string Of(HttpRequest request)
    {
        if (request.HttpContext.Features.Get<SpokenTo>() is { } to && Spoken(to.Language))
            return to.Language;
        if (request.Cookies.TryGetValue(CookieName, out var chosen) && Spoken(chosen))
            return chosen;
        // A program asks in so many words where it wants another language than its owner's.
        var asked = ApiProblems.Concerns(request) && request.Headers.AcceptLanguage.Count > 0;
        if (!asked && request.HttpContext.RequestServices.GetService<Visitor>()?.Person is { } person && Spoken(person.Language))
            return person.Language;
        if (!StringWithQualityHeaderValue.TryParseList(request.Headers.AcceptLanguage, out var wanted))
            return "en";
        return wanted
            .Where(language => language.Quality is null or > 0)
            .OrderByDescending(language => language.Quality ?? 1)
            .Select(language => language.Value.ToString().Split('-')[0].ToLowerInvariant())
            .FirstOrDefault(Spoken) ?? "en";
    }

    /// <summary>A choice is a deed, so it is posted. Asked for from a form, it needs the form's token.</summary>
    public static void MapLanguageSwitch(this IEndpointRouteBuilder app) =>
        app.MapPost("/language", async (HttpContext context) =>
        {
            var form = await FormPosts.ReadAsync(context);
            if (form is null)
                return Results.BadRequest();
            var language = form["language"].ToString();
            if (Spoken(language))
            {
                context.Response.Cookies.Append(CookieName, language, new CookieOptions
                {
                    HttpOnly = true,
                    Secure = context.Request.IsHttps,
                    SameSite = Microsoft.AspNetCore.Http.SameSiteMode.Lax,
                    MaxAge = TimeSpan.FromDays(365),
                    IsEssential = true,
                });
            }

            return FormPosts.BackTo(form["back"]);
        }).ForEverybody().ExcludeFromDescription();

    private sealed record SpokenTo(string Language, Units Units);

    private static bool Spoken(string language) => Words.All.Any(words => words.Language == language);
}
