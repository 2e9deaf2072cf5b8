using System.Text;
using System.Text.Unicode;
using Microsoft.AspNetCore.Http.Metadata;
using Microsoft.AspNetCore.Mvc;
using Microsoft.Net.Http.Headers;

namespace FruitWatch.Service.Web.Conduct;

/// <summary>
/// Looks at a request to the API before its operation does: query values that the operation does not know, text that is none, and
/// answers that it cannot give. A name misspelt and passed over would give another answer than was meant.
/// </summary>
internal sealed class RequestShape(RequestDelegate next)
{
    public async Task InvokeAsync(HttpContext context)
    {
        if (context.GetEndpoint() is not RouteEndpoint endpoint || endpoint.Metadata.GetMetadata<IHttpMethodMetadata>() is null)
        {
            await next(context);
            return;
        }

        var errors = new Dictionary<string, string[]>();
        if (!Readable(context.Request.QueryString.Value ?? ""))
            errors["query"] = ["Holds bytes that are not UTF-8, or control characters."];
        else
            CheckNames(context.Request, endpoint, errors);
        var refusal = errors.Count > 0 ? ApiProblems.Fields(errors) : Acceptable(context.Request, endpoint);
        await (refusal?.ExecuteAsync(context) ?? next(context));
    }

    /// <summary>The query values that an operation reads, and whether each may be repeated.</summary>
    public static IReadOnlyDictionary<string, bool> QueryOf(RouteEndpoint endpoint) => endpoint.Metadata.OfType<IParameterBindingMetadata>()
        .Where(parameter => !parameter.HasBindAsync && IsText(parameter)
            && endpoint.RoutePattern.GetParameter(parameter.Name) is null
            && !parameter.ParameterInfo.IsDefined(typeof(FromHeaderAttribute), inherit: false))
        .ToDictionary(parameter => parameter.Name, parameter => parameter.ParameterInfo.ParameterType.IsArray, StringComparer.OrdinalIgnoreCase);

    private static bool IsText(IParameterBindingMetadata parameter)
    {
        var type = parameter.ParameterInfo.ParameterType;
        return type == typeof(string) || type == typeof(string[]) || parameter.HasTryParse;
    }

    private static void CheckNames(HttpRequest request, RouteEndpoint endpoint, Dictionary<string, string[]> errors)
    {
        var known = QueryOf(endpoint);
        foreach (var (name, values) in request.Query)
        {
            if (!known.TryGetValue(name, out var many))
                errors[name.Length <= 60 ? name : name[..60] + "…"] = [known.Count > 0 ? $"Is not known here. Known: {string.Join(", ", known.Keys)}." : "Is not known here; there is nothing to ask for."];
            else if (values.Count > 1 && !many)
                errors[name] = ["Is given more than once."];
        }
    }

    private static Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult? Acceptable(HttpRequest request, RouteEndpoint endpoint)
    {
        // What the address asks for by name goes before what is accepted.
        if (request.Headers.Accept.Count == 0 || request.Query.ContainsKey("format"))
            return null;
        var given = endpoint.Metadata.OfType<IProducesResponseTypeMetadata>().Where(answer => answer.StatusCode is >= 200 and < 300)
            .SelectMany(answer => answer.ContentTypes).Distinct().ToList();
        if (given.Count == 0)
            return null;
        var wanted = MediaTypeHeaderValue.TryParseList(request.Headers.Accept, out var types) ? types : [];
        return wanted.Any(type => type.Quality is not 0 && given.Any(form => MediaTypeHeaderValue.Parse(form).IsSubsetOf(Bare(type)))) ? null : ApiProblems.NotAcceptable(given);
    }

    // Without charset and quality: what is given is UTF-8 whatever is asked for.
    private static MediaTypeHeaderValue Bare(MediaTypeHeaderValue type) => new(type.MediaType);

    /// <summary>Whether the escapes of a query are text: the framework would put a replacement character for what is none.</summary>
    private static bool Readable(string query)
    {
        if (!query.Contains('%', StringComparison.Ordinal))
            return true;
        var bytes = new byte[query.Length];
        var length = 0;
        for (var i = 0; i < query.Length; i++)
        {
            if (query[i] == '%' && i + 2 < query.Length && char.IsAsciiHexDigit(query[i + 1]) && char.IsAsciiHexDigit(query[i + 2]))
            {
                bytes[length++] = Convert.ToByte(query.Substring(i + 1, 2), 16);
                i += 2;
            }
            else
            {
                length += Encoding.UTF8.GetBytes(query.AsSpan(i, 1), bytes.AsSpan(length));
            }
        }

        var decoded = bytes.AsSpan(0, length);
        return Utf8.IsValid(decoded) && !decoded.ContainsAnyInRange((byte)0, (byte)0x1f);
    }
}
