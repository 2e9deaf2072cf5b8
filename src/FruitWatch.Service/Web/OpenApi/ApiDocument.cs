using System.Text.Json.Nodes;
using Microsoft.AspNetCore.OpenApi;
using Microsoft.OpenApi;
using NodaTime;

namespace FruitWatch.Service.Web.OpenApi;

/// <summary>The description of the API: its head, and how days and moments are written, which it cannot see by itself.</summary>
internal static class ApiDocument
{
    public static void Describe(OpenApiOptions options)
    {
        options.ShouldInclude = operation => operation.RelativePath?.StartsWith("api/", StringComparison.Ordinal) == true;
        options.AddDocumentTransformer((document, _, _) =>
        {
            document.Info = new OpenApiInfo
            {
                Title = "FruitWatch",
                Version = "1",
                Description =
                    "Outdoor mushroom beds: what to do with each today, and when to expect pins. Numbers in SI with the unit in the name, days as "
                    + "local days of the bed's site, moments in UTC. Within version 1 names are only added. A forecast never says that a mushroom "
                    + "is safe: whoever shows pins or harvest dates has to show the lookalikes of the species with them.",
            };
            // Where it happens to run is no part of the description.
            document.Servers?.Clear();
            return Task.CompletedTask;
        });
        options.AddSchemaTransformer((schema, context, _) =>
        {
            Times(schema, Nullable.GetUnderlyingType(context.JsonTypeInfo.Type) ?? context.JsonTypeInfo.Type);
            return Task.CompletedTask;
        });
    }

    private static void Times(OpenApiSchema schema, Type type)
    {
        var (format, example) =
            type == typeof(LocalDate) ? ("date", "2026-05-31")
            : type == typeof(LocalTime) ? ("time", "06:30:00")
            : type == typeof(Instant) ? ("date-time", "2026-05-31T04:30:00Z")
            : (null, null);
        if (format is null)
            return;
        var absent = schema.Type?.HasFlag(JsonSchemaType.Null) == true;
        schema.Type = absent ? JsonSchemaType.String | JsonSchemaType.Null : JsonSchemaType.String;
        schema.Format = format;
        schema.Examples = [JsonValue.Create(example)!];
        schema.Properties?.Clear();
    }
}
