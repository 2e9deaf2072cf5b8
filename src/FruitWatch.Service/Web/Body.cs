using System.Reflection;
using System.Text.Json;
using Microsoft.AspNetCore.Http.HttpResults;
using Microsoft.AspNetCore.Http.Metadata;

namespace FruitWatch.Service.Web;

/// <summary>A body that reads itself field by field.</summary>
/// <typeparam name="T">What it is read into.</typeparam>
internal interface IReadBody<T>
{
    /// <summary>Reads the fields; what is wrong is noted in them, and then the value is not used.</summary>
    static abstract T Read(JsonFields fields);

    /// <summary>How deep the JSON may be nested.</summary>
    static virtual int MostDepth => 8;
}

/// <summary>The JSON body of a request: what was sent, or the refusal that names every field in error.</summary>
internal sealed class Body<T> : IEndpointParameterMetadataProvider
    where T : class, IReadBody<T>
{
    /// <summary>No bed has so much to say.</summary>
    private const int MostBytes = 64 * 1024;

    private static readonly JsonDocumentOptions s_options = new() { MaxDepth = T.MostDepth, AllowDuplicateProperties = false };

    private Body(T? value, ProblemHttpResult? refusal, JsonFields? fields)
    {
        Value = value!;
        Refusal = refusal;
        Fields = fields!;
    }

    /// <summary>What was sent; only where there is no refusal.</summary>
    public T Value { get; }

    /// <summary>The answer where the body cannot be used.</summary>
    public ProblemHttpResult? Refusal { get; }

    /// <summary>For what can only be seen beside other data; see <see cref="JsonFields.Refuse(string, string)"/>.</summary>
    public JsonFields Fields { get; }

    /// <summary>Called by the framework.</summary>
    public static async ValueTask<Body<T>> BindAsync(HttpContext context)
    {
        var request = context.Request;
        if (!request.HasJsonContentType())
            return new Body<T>(null, ApiProblems.MediaType(), null);
        var bytes = await ReadAsync(request.Body, context.RequestAborted);
        if (bytes is null)
            return new Body<T>(null, ApiProblems.TooLarge(MostBytes), null);
        try
        {
            using var document = JsonDocument.Parse(bytes.Value, s_options);
            var fields = new JsonFields(document.RootElement.Clone());
            var value = T.Read(fields);
            fields.Close();
            return fields.Good
                ? new Body<T>(value, null, fields)
                : new Body<T>(null, ApiProblems.Fields(fields.Errors), fields);
        }
        catch (JsonException broken)
        {
            var where = FormattableString.Invariant($"line {broken.LineNumber + 1}, byte {broken.BytePositionInLine + 1}");
            return new Body<T>(null, ApiProblems.Field("body", $"Is not JSON that can be read: {where}."), null);
        }
    }

    /// <summary>Called by the framework: tells the description of the API what is sent.</summary>
    public static void PopulateMetadata(ParameterInfo parameter, EndpointBuilder builder)
    {
        builder.Metadata.Add(new AcceptsMetadata(["application/json"], typeof(T)));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(
            StatusCodes.Status400BadRequest, typeof(Problem), ["application/problem+json"]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(
            StatusCodes.Status413PayloadTooLarge, typeof(Problem), ["application/problem+json"]));
        builder.Metadata.Add(new ProducesResponseTypeMetadata(
            StatusCodes.Status415UnsupportedMediaType, typeof(Problem), ["application/problem+json"]));
    }

    private static async Task<ReadOnlyMemory<byte>?> ReadAsync(Stream body, CancellationToken stop)
    {
        var buffer = new byte[MostBytes + 1];
        var length = await body.ReadAtLeastAsync(buffer, buffer.Length, throwOnEndOfStream: false, stop);
        if (length > MostBytes)
            return null;
        return buffer.AsMemory(0, length);
    }
}
