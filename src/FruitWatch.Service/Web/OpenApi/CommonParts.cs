using System.Text.Json.Nodes;
using FruitWatch.Service.Web.Conduct;
using Microsoft.OpenApi;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>Parts of the description that stand once and are pointed to: refusals, header fields, the token.</summary>
internal static class CommonParts
{
    public const string Token = "token";

    private const string Trace = "00-3f1c9a0d5b7e42c68a14d0e9b2f6c853-9d1e5a7b3c2f4068-00";

    private static readonly Dictionary<int, Refusal> s_refusals = new()
    {
        [400] = new("Fields", "The request cannot be taken as it is. errors says what is wrong, by field or query value.",
            ApiProblems.Field("areaM2", "Expected a number from 0.05 to 100000, got -3."), []),
        [401] = new("Unknown", "No token, or none that is good: unknown, expired or taken back.", ApiProblems.Unknown(), ["WWW-Authenticate"]),
        [403] = new("NotAllowed", "The token's scopes, or the role of the person it acts for, do not reach so far.", ApiProblems.NotAllowed(), []),
        [404] = new("NotFound", "Nothing under this key that the token's person may know of.", ApiProblems.NotFound("bed", 999), []),
        [406] = new("NotAcceptable", "None of the media types in Accept can be given.", ApiProblems.NotAcceptable(["application/json"]), []),
        [409] = new("Conflict", "It stands against something that is kept, was changed at the same moment, or is still being done under the same Idempotency-Key.",
            ApiProblems.Conflict("Somebody else changed it at the same moment. Nothing was changed. Get it again, and send the change again."), ["Retry-After"]),
        [412] = new("Outdated", "It is not the version that If-Match names.", ApiProblems.Outdated(), []),
        [413] = new("TooLarge", "The body is larger than is taken here.", ApiProblems.TooLarge(BodyLimits.MostBytes), []),
        [415] = new("MediaType", "The body is not in a form that is read here.", ApiProblems.MediaType(), []),
        [422] = new("OtherRequest", "The Idempotency-Key was used for another address or body.", ApiProblems.OtherRequest(), []),
        [428] = new("VersionNeeded", "If-Match is missing.", ApiProblems.Unconditional(), []),
        [429] = new("TooOften", "More requests than are let through.", ApiProblems.TooOften(null, "There were more requests than are let through. Wait as long as Retry-After says.", TimeSpan.Zero), ["Retry-After"]),
    };

    /// <summary>Name of a refusal among the components; null for a status that is none of ours.</summary>
    public static string? RefusalOf(int status) => s_refusals.GetValueOrDefault(status)?.Name;

    public static void AddTo(OpenApiDocument document)
    {
        var parts = document.Components ??= new OpenApiComponents();
        parts.SecuritySchemes = new Dictionary<string, IOpenApiSecurityScheme>
        {
            [Token] = new OpenApiSecurityScheme
            {
                Type = SecuritySchemeType.Http,
                Scheme = "bearer",
                BearerFormat = "fw_<key>_<secret>",
                Description = "A token of a person, made on the page /account/tokens or by AddToken. The scopes that an operation asks for stand beside it as x-scopes: all of them are needed.",
            },
        };
        parts.Headers = Headers();
        parts.Parameters = Parameters();
        parts.Responses = s_refusals.ToDictionary(pair => pair.Value.Name, pair => (IOpenApiResponse)new OpenApiResponse
        {
            Description = pair.Value.Description,
            Headers = HeadersOf(document, [.. pair.Value.Headers, .. RateLimitHeaders]),
            Content = new Dictionary<string, OpenApiMediaType>
            {
                ["application/problem+json"] = new OpenApiMediaType { Schema = new OpenApiSchemaReference(nameof(Problem), document), Example = Shown(pair.Value.Problem) },
            },
        });
    }

    /// <summary>Header fields of every answer.</summary>
    public static readonly string[] RateLimitHeaders = ["RateLimit", "RateLimit-Policy"];

    public static Dictionary<string, IOpenApiHeader> HeadersOf(OpenApiDocument document, IEnumerable<string> names) =>
        names.ToDictionary(name => name, name => (IOpenApiHeader)new OpenApiHeaderReference(name, document));

    private static Dictionary<string, IOpenApiHeader> Headers() => new()
    {
        ["ETag"] = Header("Version of what is answered, quotes included; for If-None-Match and If-Match.", "\"3\""),
        ["Location"] = Header("Address of what was made.", "/api/v1/beds/5", "uri-reference"),
        ["WWW-Authenticate"] = Header("How to say who asks (RFC 6750).", "Bearer error=\"invalid_token\""),
        ["Retry-After"] = Header("Seconds to wait before the request may be sent again. Left out where waiting does not help.", 12),
        ["RateLimit"] = Header("What is left: r requests in the next t seconds.", "\"api\";r=59;t=42"),
        ["RateLimit-Policy"] = Header("What is let through: q requests in w seconds.", "\"api\";q=60;w=60"),
        [Idempotency.ReplayedHeader] = Header("true where the answer was given before, to the same request under the same Idempotency-Key. Left out otherwise.", "true"),
    };

    private static Dictionary<string, IOpenApiParameter> Parameters() => new()
    {
        ["If-None-Match"] = Field("If-None-Match", "ETags that you have. Answered by 304 without a body where one of them is still good.", "\"3\"", required: false),
        ["If-Match"] = Field("If-Match", "ETag of the version that the request is meant for, or * for any.", "\"3\"", required: true),
        [Idempotency.HeaderName] = Field(
            Idempotency.HeaderName,
            "Your name for this request, 1 to 200 visible characters, best a UUID in quotes. Sent again with the same address and body within 24 hours, it is not "
            + "done again: the first answer is given again. Worth sending wherever a broken connection would leave you in doubt.",
            "\"8e03978e-40d5-43dd-bc93-6894a57f9324\"",
            required: false),
    };

    private static OpenApiHeader Header(string description, JsonNode example, string? format = null) => new()
    {
        Description = description,
        Schema = new OpenApiSchema { Type = example.GetValueKind() == System.Text.Json.JsonValueKind.Number ? JsonSchemaType.Integer : JsonSchemaType.String, Format = format },
        Example = example,
    };

    private static OpenApiParameter Field(string name, string description, string example, bool required) => new()
    {
        Name = name,
        In = ParameterLocation.Header,
        Description = description,
        Required = required,
        Schema = new OpenApiSchema { Type = JsonSchemaType.String },
        Example = example,
    };

    private static JsonObject Shown(Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult problem)
    {
        var json = new JsonObject
        {
            ["type"] = problem.ProblemDetails.Type,
            ["title"] = problem.ProblemDetails.Title,
            ["status"] = problem.StatusCode,
            ["detail"] = problem.ProblemDetails.Detail,
        };
        if (problem.ProblemDetails.Extensions.TryGetValue("errors", out var errors))
            json["errors"] = System.Text.Json.JsonSerializer.SerializeToNode(errors);
        json["traceId"] = Trace;
        return json;
    }

    private sealed record Refusal(string Name, string Description, Microsoft.AspNetCore.Http.HttpResults.ProblemHttpResult Problem, string[] Headers);
}
