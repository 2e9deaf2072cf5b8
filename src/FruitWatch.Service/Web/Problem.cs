using System.ComponentModel;

namespace FruitWatch.Service.Web;

/// <summary>The form of every refusal, for the description of the API (RFC 9457).</summary>
[Description("A refusal (RFC 9457).")]
internal sealed record Problem(
    [property: Description("Stable name, such as urn:fruitwatch:problem:fields.")] string Type,
    [property: Description("The kind of refusal in words.")] string Title,
    [property: Description("HTTP status.")] int Status,
    [property: Description("What it is about and what to do.")] string? Detail,
    [property: Description("Number under which the service's log tells of the request.")] string? TraceId,
    [property: Description("What is wrong, by field; a body that is no JSON is named body.")] IReadOnlyDictionary<string, string[]>? Errors);
