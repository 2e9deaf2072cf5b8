using System.Reflection;
using System.Text.Json;
using System.Text.Unicode;
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

/// <summary>How large bodies may be.</summary>
internal static class BodyLimits
{
    /// <summary>No bed has so much to say.</summary>
    public const int MostBytes = 64 * 1024;
}

/// <summary>The JSON body of a request: what was sent, or the refusal that names every field in error.</summary>
internal sealed class Body<T> : IEndpointParameterMetadataProvider
    where T : class, IReadBody<T>
{
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
            return new Body<T>(null, ApiProblems.TooLarge(BodyLimits.MostBytes), null);
        if (Unreadable(bytes.Value.Span) is { } why)
            return new Body<T>(null, ApiProblems.Field("body", why), null);
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

    // JSON is only looked at where its text is taken out, and half a character would break there.
    private static string? Unreadable(ReadOnlySpan<byte> bytes)
    {
        if (!Utf8.IsValid(bytes))
            return "Is not UTF-8.";
        var reader = new Utf8JsonReader(bytes, new JsonReaderOptions { MaxDepth = T.MostDepth });
        try
        {
            while (reader.Read())
            {
                if (reader.TokenType is JsonTokenType.String or JsonTokenType.PropertyName)
                    reader.GetString();
            }

            return null;
        }
        catch (JsonException)
        {
            return null; // told with its place by the reader of the whole
        }
        catch (InvalidOperationException)
        {
            return "Holds half a character: a \\u escape from D800 to DFFF without the other of its pair.";
        }
    }

    private static async Task<ReadOnlyMemory<byte>?> ReadAsync(Stream body, CancellationToken stop)
    {
        var buffer = new byte[BodyLimits.MostBytes + 1];
        var length = await body.ReadAtLeastAsync(buffer, buffer.Length, throwOnEndOfStream: false, stop);
        if (length > BodyLimits.MostBytes)
            return null;
        return buffer.AsMemory(0, length);
    }
}
