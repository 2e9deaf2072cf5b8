using System.Text.Json;
using System.Text.Json.Serialization;
using NodaTime;
using NodaTime.Serialization.SystemTextJson;

namespace FruitWatch.Service.Web;

/// <summary>How the web API writes JSON: days and moments in ISO form, sets of words in lower case with hyphens.</summary>
internal static class ApiJson
{
    public static void AddApiJson(this IServiceCollection services) =>
        services.ConfigureHttpJsonOptions(options => Configure(options.SerializerOptions));

    /// <summary>JSON without needless escapes, for what no page shows.</summary>
    public static JsonSerializerOptions Plain { get; } = new() { Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    public static void Configure(JsonSerializerOptions options)
    {
        options.ConfigureForNodaTime(DateTimeZoneProviders.Tzdb);
        options.Converters.Add(new JsonStringEnumConverter(JsonNamingPolicy.KebabCaseLower, allowIntegerValues: false));
        options.NumberHandling = JsonNumberHandling.Strict;
    }

    /// <summary>A word as the API spells it, such as <c>spawn-run</c>.</summary>
    public static string WordOf<T>(T word)
        where T : struct, Enum => JsonNamingPolicy.KebabCaseLower.ConvertName(word.ToString());

    /// <summary>All words of a set, in their order.</summary>
    public static IEnumerable<string> WordsOf<T>()
        where T : struct, Enum => Enum.GetValues<T>().Select(WordOf);
}
