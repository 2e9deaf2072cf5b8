using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Http.Features;
using Microsoft.Extensions.DependencyInjection.Extensions;

namespace FruitWatch.Service.Web;

/// <summary>
/// Addresses that open something by themselves, such as <c>/with/SECRET</c>. The secret is taken out of the address before anything has
/// seen the request, so that no line of a log, no scope of one and no trace can hold it, whatever an operator has switched on
/// (ASVS 5.0, 14.2.1 and 16.2.5). The page finds it in the value <c>secret</c> of its route, as if nothing had happened.
/// </summary>
internal sealed class SecretAddresses(IServer server) : IServer
{
    /// <summary>What stands in the address instead.</summary>
    public const string Instead = "-";

    private static readonly string[] s_beginnings = ["/with/", "/invitation/", "/setup/", "/do/", "/stop/", "/calendar/"];

    public IFeatureCollection Features => server.Features;

    /// <summary>The secret that the address of a request held; null where it held none.</summary>
    public static string? Of(HttpContext context) => context.Features.Get<Taken>()?.Secret;

    /// <summary>The path of a request as it came, for forms that lead back to it.</summary>
    public static string PathOf(HttpContext context) =>
        Of(context) is { } secret ? context.Request.Path.Value![..^Instead.Length] + Uri.EscapeDataString(secret) : context.Request.Path.ToString();

    public Task StartAsync<TContext>(IHttpApplication<TContext> application, CancellationToken cancellationToken)
        where TContext : notnull => server.StartAsync(new Masked<TContext>(application), cancellationToken);

    public Task StopAsync(CancellationToken cancellationToken) => server.StopAsync(cancellationToken);

    public void Dispose() => server.Dispose();

    private sealed record Taken(string Secret);

    private sealed class Masked<TContext>(IHttpApplication<TContext> application) : IHttpApplication<TContext>
        where TContext : notnull
    {
        public TContext CreateContext(IFeatureCollection contextFeatures)
        {
            if (contextFeatures.Get<IHttpRequestFeature>() is { } request
                && s_beginnings.FirstOrDefault(beginning => request.Path.StartsWith(beginning, StringComparison.OrdinalIgnoreCase)) is { } found
                && request.Path.Length > found.Length)
            {
                contextFeatures.Set(new Taken(request.Path[found.Length..]));
                request.Path = found + Instead;
                request.RawTarget = request.Path + request.QueryString;
            }

            return application.CreateContext(contextFeatures);
        }

        public Task ProcessRequestAsync(TContext context) => application.ProcessRequestAsync(context);

        public void DisposeContext(TContext context, Exception? exception) => application.DisposeContext(context, exception);
    }
}

/// <summary>Puts <see cref="SecretAddresses"/> before the server.</summary>
internal static class SecretAddressSetup
{
    public static void AddSecretAddresses(this IServiceCollection services)
    {
        // Commands that serve nothing have no server.
        if (services.LastOrDefault(service => service.ServiceType == typeof(IServer)) is not { ImplementationType: { } type })
            return;
        services.RemoveAll<IServer>();
        services.AddSingleton<IServer>(provider => new SecretAddresses((IServer)ActivatorUtilities.CreateInstance(provider, type)));
    }

    /// <summary>After the route was found: gives its page the secret.</summary>
    public static void UseSecretAddresses(this IApplicationBuilder app) => app.Use((context, next) =>
    {
        foreach (var name in s_names)
        {
            if (SecretAddresses.Of(context) is { } secret && context.Request.RouteValues.ContainsKey(name))
                context.Request.RouteValues[name] = secret;
        }

        return next(context);
    });

    // What the pages call it.
    private static readonly string[] s_names = ["secret", "code"];
}
