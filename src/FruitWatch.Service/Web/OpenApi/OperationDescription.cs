using System.Globalization;
using System.Text.Json.Nodes;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web.Conduct;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>What holds for an operation by what it is: who may, which statuses and header fields there are, and its example.</summary>
internal static class OperationDescription
{
    public static Task TransformAsync(OpenApiOperation operation, OpenApiOperationTransformerContext context, CancellationToken stop)
    {
        var document = context.Document!;
        var marks = context.Description.ActionDescriptor.EndpointMetadata;
        var example = ApiExample.All.GetValueOrDefault(operation.OperationId ?? "");
        Secure(operation, marks, document);
        var method = context.Description.HttpMethod ?? "GET";
        Parameters(operation, method, marks, document, example);
        if (operation.RequestBody is OpenApiRequestBody sent)
            Sent(sent, example);
        Answers(operation, method, marks, document, example);
        return Task.CompletedTask;
    }

    private static void Secure(OpenApiOperation operation, IList<object> marks, OpenApiDocument document)
    {
        var scopes = marks.OfType<RightAttribute>().Select(asked => Rights.OfScope.FirstOrDefault(scope => scope.Value.Contains(asked.Right)).Key)
            .Where(scope => scope is not null).Distinct().ToList();
        operation.Security = [new OpenApiSecurityRequirement { [new OpenApiSecuritySchemeReference(CommonParts.Token, document)] = [] }];
        // Beside it and not within: linters take the names within for those of an OAuth scheme.
        operation.Extensions ??= new Dictionary<string, IOpenApiExtension>();
        operation.Extensions["x-scopes"] = new JsonNodeExtension(new JsonArray([.. scopes.Select(scope => JsonValue.Create(scope))]));
        var words = scopes.Count switch
        {
            0 => "Asks for a token of any scope.",
            1 => $"Asks for a token with the scope `{scopes[0]}`.",
            _ => $"Asks for a token with the scopes {string.Join(" and ", scopes.Select(scope => $"`{scope}`"))}.",
        };
        operation.Description = string.IsNullOrEmpty(operation.Description) ? words : $"{operation.Description}\n\n{words}";
    }

    private static void Parameters(OpenApiOperation operation, string method, IList<object> marks, OpenApiDocument document, ApiExample? example)
    {
        operation.Parameters ??= [];
        foreach (var parameter in operation.Parameters.OfType<OpenApiParameter>())
        {
            var values = parameter.In == ParameterLocation.Path ? example?.Path : example?.Query;
            parameter.Example = Of(parameter, values?.FirstOrDefault(pair => pair.Key == parameter.Name).Value);
        }

        if (HttpMethods.IsGet(method))
            operation.Parameters.Add(new OpenApiParameterReference("If-None-Match", document));
        if (HttpMethods.IsPost(method))
            operation.Parameters.Add(new OpenApiParameterReference(Idempotency.HeaderName, document));
        if (marks.OfType<NeedsVersionMetadata>().Any())
            operation.Parameters.Add(new OpenApiParameterReference("If-Match", document));
    }

    private static JsonNode? Of(OpenApiParameter parameter, JsonNode? given)
    {
        var value = Filled(given) ?? parameter.Name switch
        {
            "limit" => "20",
            "cursor" => "120",
            "siteId" or "bedId" or "personId" => "1",
            "from" => "2026-10-01",
            "to" => "2026-10-20",
            "state" => "open",
            _ => parameter.In == ParameterLocation.Path ? JsonValue.Create(1) : "",
        };
        var text = parameter.Schema?.Type?.HasFlag(JsonSchemaType.String) == true;
        return parameter.Schema?.Type?.HasFlag(JsonSchemaType.Array) == true && value is not JsonArray ? new JsonArray(value.DeepClone())
            : text && value is JsonValue ? JsonValue.Create(value.ToString())
            : value.DeepClone();
    }

    private static void Sent(OpenApiRequestBody body, ApiExample? example)
    {
        foreach (var (form, media) in body.Content ?? new Dictionary<string, OpenApiMediaType>())
        {
            media.Example = form == "application/json" && example?.Body is { } json ? Filled(json) : example?.Text is { } text ? JsonValue.Create(text) : null;
        }
    }

    private static void Answers(OpenApiOperation operation, string method, IList<object> marks, OpenApiDocument document, ApiExample? example)
    {
        var known = operation.Responses ?? [];
        var statuses = known.Keys.Select(status => int.Parse(status, CultureInfo.InvariantCulture)).ToHashSet();
        statuses.UnionWith([400, 401, 403, 429]);
        if (operation.Parameters!.Any(parameter => parameter.In == ParameterLocation.Path))
            statuses.Add(404);
        if (HttpMethods.IsGet(method))
            statuses.Add(304);
        if (HttpMethods.IsPost(method))
            statuses.UnionWith([409, 413, 422]);
        if (known.Any(answer => answer.Key[0] == '2' && answer.Value.Content?.Count > 0))
            statuses.Add(406);
        operation.Responses = [];
        foreach (var status in statuses.Order())
        {
            var text = status.ToString(CultureInfo.InvariantCulture);
            operation.Responses[text] = CommonParts.RefusalOf(status) is { } name
                ? new OpenApiResponseReference(name, document)
                : Good(known.GetValueOrDefault(text), status, method, marks, document, example);
        }
    }

    private static OpenApiResponse Good(
        IOpenApiResponse? known, int status, string method, IList<object> marks, OpenApiDocument document, ApiExample? example)
    {
        var versioned = HttpMethods.IsGet(method) || marks.OfType<NeedsVersionMetadata>().Any() || example?.Answer?.Headers?.ContainsKey("ETag") == true;
        string[] headers =
        [
            .. versioned && status != StatusCodes.Status204NoContent ? ["ETag"] : Array.Empty<string>(),
            .. status == StatusCodes.Status201Created ? ["Location"] : Array.Empty<string>(),
            .. HttpMethods.IsPost(method) ? [Idempotency.ReplayedHeader] : Array.Empty<string>(),
            .. CommonParts.RateLimitHeaders,
        ];
        var content = status == StatusCodes.Status304NotModified ? null : known?.Content;
        foreach (var (form, media) in content ?? new Dictionary<string, OpenApiMediaType>())
        {
            media.Example = example?.OtherForms?.GetValueOrDefault(form) is { } other ? JsonValue.Create(other)
                : example?.Answer?.Text is { } text ? JsonValue.Create(text)
                : example?.Answer?.Body?.DeepClone();
            // Not JSON: the type of what is read from it says nothing of its text.
            if (!form.EndsWith("json", StringComparison.Ordinal))
                media.Schema = new OpenApiSchema { Type = JsonSchemaType.String };
        }

        return new OpenApiResponse
        {
            Description = status switch
            {
                StatusCodes.Status200OK => "As asked for.",
                StatusCodes.Status201Created => "Made.",
                StatusCodes.Status202Accepted => "Taken, and will be done.",
                StatusCodes.Status204NoContent => "Done.",
                StatusCodes.Status304NotModified => "It is what you have by If-None-Match.",
                _ => known?.Description ?? "Done.",
            },
            Headers = CommonParts.HeadersOf(document, headers),
            Content = content,
        };
    }

    private static JsonNode? Filled(JsonNode? node) => ApiExample.Fill(node, name => ApiExample.All.GetValueOrDefault(name)?.Answer?.Body);
}
