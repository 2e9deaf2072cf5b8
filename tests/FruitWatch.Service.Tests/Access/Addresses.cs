using System.Reflection;
using System.Text.RegularExpressions;
using FruitWatch.Service.Access;
using FruitWatch.Service.Tests.Pages;
using Microsoft.AspNetCore.Authorization;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.AspNetCore.Routing;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Access;

/// <summary>One thing that can be asked of the service: a method of an address, or a form of a page.</summary>
/// <param name="Method">HTTP method.</param>
/// <param name="Route">The route as it is written in the program.</param>
/// <param name="Handler">Name of the page's form; null for none, empty for its only one.</param>
/// <param name="Rights">What has to be had; empty where it is for everybody.</param>
/// <param name="ForEverybody">It is said to be for everybody.</param>
internal sealed partial record Address(string Method, string Route, string? Handler, IReadOnlyList<Right> Rights, bool ForEverybody)
{
    private static readonly string[] s_read = ["GET", "HEAD"];

    /// <summary>It belongs to the web API and is asked by programs.</summary>
    public bool OfPrograms => Route.StartsWith("/api/v1", StringComparison.Ordinal);

    /// <summary>It names something that is kept, so that there is something not to be found.</summary>
    public bool NamesAKey => Parameters().IsMatch(Route.Replace("{documentName}", "v1", StringComparison.Ordinal));

    public override string ToString() => $"{Method} {Route}{(Handler is null ? "" : $"?handler={Handler}")}";

    /// <summary>Everything that can be asked of a running service, as its route table has it.</summary>
    public static IReadOnlyList<Address> All(TestService service)
    {
        var found = new List<Address>();
        foreach (var endpoint in service.Services.GetRequiredService<EndpointDataSource>().Endpoints.OfType<RouteEndpoint>())
        {
            var route = "/" + endpoint.RoutePattern.RawText!.Trim('/');
            var rights = endpoint.Metadata.GetOrderedMetadata<RightAttribute>().Select(right => right.Right).ToList();
            var everybody = endpoint.Metadata.GetMetadata<IAllowAnonymous>() is not null;
            if (endpoint.Metadata.GetMetadata<PageActionDescriptor>() is { } page)
            {
                if (route is "/Index" || route.EndsWith("/Index", StringComparison.Ordinal))
                    continue;
                found.Add(new Address("GET", route, null, rights, everybody));
                found.AddRange(Forms(page).Select(form => new Address("POST", route, form.Name, form.Asks is { } asked ? [.. rights, asked] : rights, everybody)));
                continue;
            }

            var methods = endpoint.Metadata.GetMetadata<HttpMethodMetadata>()?.HttpMethods ?? ["GET", "POST"];
            found.AddRange(methods.Where(method => method != "HEAD" || !methods.Contains("GET")).Select(method => new Address(method, route, null, rights, everybody)));
        }

        return found;
    }

    /// <summary>The forms of a page with the rights that they ask for.</summary>
    public static IEnumerable<(string Name, Right? Asks)> Forms(PageActionDescriptor page)
    {
        var name = "FruitWatch.Service.Pages" + page.ViewEnginePath.Replace('/', '.') + "Model";
        var model = typeof(Right).Assembly.GetType(name) ?? throw new InvalidOperationException($"The model of the page {page.ViewEnginePath} is not {name}.");
        return model.GetMethods(BindingFlags.Public | BindingFlags.Instance).Where(method => method.Name.StartsWith("OnPost", StringComparison.Ordinal))
            .Select(method => (HandlerName().Match(method.Name).Groups[1].Value, method.GetCustomAttribute<AsksAttribute>()?.Right));
    }

    public bool IsRead => s_read.Contains(Method);

    /// <summary>The address with keys of what the invented cooperative keeps, or of nothing.</summary>
    /// <exception cref="InvalidOperationException">The route names something that the tests know no key of: teach them.</exception>
    public string Fill(IReadOnlyDictionary<string, string> keys, bool nothing = false)
    {
        var filled = Parameters().Replace(Route.Replace("{documentName}", "v1", StringComparison.Ordinal), match =>
        {
            var place = $"{match.Groups["before"].Value}/{{{match.Groups["name"].Value}}}";
            if (!keys.TryGetValue(place, out var key))
                throw new InvalidOperationException($"The tests know no key for {place} in {Route}. Name one in {nameof(KeysKept)}.");
            if (place == "problem/{status}")
                return $"problem/{key}";
            var none = match.Groups["kind"].Value.Contains("guid", StringComparison.Ordinal) ? Guid.Empty.ToString() : "987654321";
            return $"{match.Groups["before"].Value}/{(nothing ? none : key)}";
        });
        return Handler is { Length: > 0 } ? $"{filled}?handler={Handler}" : filled;
    }

    [GeneratedRegex(@"(?<before>[A-Za-z-]+)/\{(?<name>\w+)(?<kind>[^}]*)\}")]
    private static partial Regex Parameters();

    [GeneratedRegex(@"^OnPost(\w*?)(Async)?$")]
    private static partial Regex HandlerName();
}
