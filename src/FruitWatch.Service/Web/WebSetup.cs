using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Calendars;
using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Service.Cooperatives;
using FruitWatch.Service.Deeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Jobs;
using FruitWatch.Service.Log;
using FruitWatch.Service.Mails;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.People;
using FruitWatch.Service.Season;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Sites;
using FruitWatch.Service.Tokens;
using FruitWatch.Service.Verification;
using FruitWatch.Service.Weather;
using FruitWatch.Service.Weather.Past;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Service.Web.OpenApi;
using FruitWatch.Service.Webhooks;
using FruitWatch.Service.Wishes;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.ApplicationParts;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web;

/// <summary>Pages and web API of the service.</summary>
internal static class WebSetup
{
    public static IServiceCollection AddFruitWatchWeb(this IServiceCollection services)
    {
        services.AddHttpContextAccessor();
        services.AddProxies();
        services.Configure<Microsoft.AspNetCore.Server.Kestrel.Core.KestrelServerOptions>(server => server.AddServerHeader = false);
        services.AddAccess();
        services.AddPeople();
        services.AddScoped<SiteShelf>();
        services.AddScoped<BedShelf>();
        services.AddSignIn();
        services.AddScoped<LogBook>();
        services.AddSingleton<DeedBook>();
        services.AddWishes();
        services.AddScoped<PersonRemoval>();
        services.AddSingleton<Traces>();
        services.AddSingleton<CooperativeRemoval>();
        services.AddScoped<WebhookShelf>();
        services.AddSingleton<CooperativeExport>();
        services.AddSingleton<CooperativeImport>();
        services.AddScoped<TokenShelf>();
        services.AddCalendars();
        services.AddSingleton<SeasonPlans>();
        services.AddFeedTrials();
        services.AddScoped(Languages.Chosen);
        services.AddApiJson();
        services.AddApiProblems();
        services.AddRateLimits();
        services.AddSingleton<RequestsKept>();
        services.Configure<KestrelServerOptions>(AddressLimits.Configure);
        services.AddOpenApi("v1", ApiDocument.Describe);
        services.AddSingleton<ApiGuide>();
        services.AddFormProtection();
        var pages = services.AddRazorPages(options => options.Conventions.ConfigureFilter(new TypeFilterAttribute(typeof(HandlerRights))));
        // Found by name, because the program that runs may be a test and not this one.
        pages.ConfigureApplicationPartManager(manager =>
        {
            var own = typeof(WebSetup).Assembly;
            if (manager.ApplicationParts.Any(part => part.Name == own.GetName().Name))
                return;
            foreach (var part in ApplicationPartFactory.GetApplicationPartFactory(own).GetApplicationParts(own))
                manager.ApplicationParts.Add(part);
        });
        return services;
    }

    public static WebApplication MapFruitWatchWeb(this WebApplication app)
    {
        app.UseForwardedHeaders();
        app.UseMiddleware<SecurityHeaders>();
        app.UseMiddleware<HeadRequests>();
        app.UseExceptionHandler(failed => failed.Run(Failures.AnswerAsync));
        app.UseWhen(
            context => !ApiProblems.Concerns(context.Request),
            pages => pages.UseStatusCodePagesWithReExecute("/problem/{0}"));
        app.UseWhen(
            context => ApiProblems.Concerns(context.Request),
            api => api.UseStatusCodePages(refused => ApiProblems.OfStatus(refused.HttpContext.Response.StatusCode).ExecuteAsync(refused.HttpContext)));
        app.UseMiddleware<AddressLimits>();
        app.UseStaticFiles(new StaticFileOptions
        {
            // Addresses carry a hash of the content, see the layout.
            OnPrepareResponse = file => file.Context.Response.Headers[HeaderNames.CacheControl] = "public, max-age=604800",
        });
        app.UseRouting();
        app.UseSecretAddresses();
        app.UseAccess();
        app.UseWhen(
            context => ApiProblems.Concerns(context.Request),
            api => api.UseMiddleware<RequestShape>().UseMiddleware<ContentTags>().UseMiddleware<Idempotency>());
        app.MapRazorPages();
        app.MapLanguageSwitch();
        app.MapTestMessageForm();
        app.MapSignIn();
        app.MapDemoSteps();
        app.MapMailBodies();
        app.MapCalendars();
        app.MapBounces();
        app.MapJobs();
        app.MapOpenApi("/openapi/{documentName}.json").ForEverybody();

        var api = app.MapGroup(ApiProblems.Root).AddEndpointFilter(ApiProblems.AnswerConflictsAsync).Refusing(401, 403);
        api.MapSites();
        api.MapSiteFeeds();
        api.MapBackfills();
        api.MapSeason();
        api.MapBeds();
        api.MapBedAccounts();
        api.MapOutlooks();
        api.MapCatalogue();
        api.MapLog();
        api.MapNotices();
        api.MapVerification();
        api.MapFeedPresets();
        api.MapFeedTrials();
        api.MapFeeds();
        api.MapPeople();
        api.MapLinks();
        api.MapMe();
        api.MapCalendarFeeds();
        api.MapWishes();
        api.MapWebhooks();
        api.MapDeliveries();
        api.MapCooperative();
        api.MapAudit();
        api.MapMails();
        api.MapTokens();
        return app;
    }
}
