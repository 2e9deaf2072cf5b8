using System.ComponentModel;
using System.Reflection;
using System.Text.Json;
using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using NodaTime;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>What the description cannot see in the types of bodies: how days are written, what may be left out, and the words about it.</summary>
internal static class SchemaDescription
{
    private const JsonSchemaType Any =
        JsonSchemaType.Object | JsonSchemaType.String | JsonSchemaType.Number | JsonSchemaType.Boolean;

    public static Task TransformAsync(OpenApiSchema schema, OpenApiSchemaTransformerContext context, CancellationToken stop)
    {
        var type = Nullable.GetUnderlyingType(context.JsonTypeInfo.Type) ?? context.JsonTypeInfo.Type;
        Times(schema, type);
        if (type == typeof(JsonElement))
            (schema.Type, schema.Description) = (Any, "JSON as it stands; what it is is told where it is used.");
        // The words for readers of the API, not those for readers of the code.
        if (type.GetCustomAttribute<DescriptionAttribute>() is { } about)
            schema.Description = about.Description;
        // That it may be missing is told where it is used; told twice, null would fit twice.
        if (type.IsEnum && schema.Enum is { } words)
            schema.Enum = [.. words.Where(word => word is not null && word.GetValueKind() != JsonValueKind.Null)];
        if (IsSent(type))
            LeaveOut(schema);
        return Task.CompletedTask;
    }

    private static bool IsSent(Type type) =>
        type == typeof(Problem) || type.IsDefined(typeof(SentAttribute)) || type.GetInterfaces().Any(one => one.IsGenericType && one.GetGenericTypeDefinition() == typeof(IReadBody<>));

    // What may be null may be left out, where a body is sent. In answers every field stands, null or not.
    private static void LeaveOut(OpenApiSchema schema)
    {
        foreach (var (name, field) in schema.Properties ?? new Dictionary<string, IOpenApiSchema>())
        {
            if (MayBeNull(field))
                schema.Required?.Remove(name);
        }
    }

    private static bool MayBeNull(IOpenApiSchema field) =>
        field.Type?.HasFlag(JsonSchemaType.Null) == true
        || field.OneOf?.Any(MayBeNull) == true
        || (field is OpenApiSchemaReference { Reference.Id: nameof(JsonElement) })
        || (field is OpenApiSchema { Metadata: { } known } && known.TryGetValue("x-is-nullable-property", out var said) && said is true);

    private static void Times(OpenApiSchema schema, Type type)
    {
        var (format, example, about) =
            type == typeof(LocalDate) ? ("date", "2026-05-31", "A local day.")
            : type == typeof(Instant) ? ("date-time", "2026-05-31T04:30:00Z", "A moment in UTC.")
            : (null, null, null);
        if (type == typeof(LocalTime))
        {
            // JSON Schema's own time has an offset from UTC, which a time of day at a site has not.
            (example, about) = ("06:30:00", "A local time of day.");
            schema.Pattern = "^([01][0-9]|2[0-3]):[0-5][0-9](:[0-5][0-9](\\.[0-9]{1,9})?)?$";
        }
        else if (format is null)
        {
            return;
        }

        var absent = schema.Type?.HasFlag(JsonSchemaType.Null) == true;
        schema.Type = absent ? JsonSchemaType.String | JsonSchemaType.Null : JsonSchemaType.String;
        schema.Format = format;
        schema.Description = about;
        schema.Examples = [JsonValue.Create(example)!];
        schema.Properties?.Clear();
    }
}

/// <summary>Marks a part of a body that is sent, such as an entry of its list: what may be null in it may be left out.</summary>
[AttributeUsage(AttributeTargets.Class)]
internal sealed class SentAttribute : Attribute;
