using System.Text.Json;

namespace FruitWatch.Feeds.Describing;

/// <summary>
/// The text of a JSON value, so that a number, a number in quotation marks and a CSV field are read by the same rules.
/// </summary>
internal static class CellText
{
    public static string? Of(JsonElement value) => value.ValueKind switch
    {
        JsonValueKind.Null or JsonValueKind.Undefined => null,
        JsonValueKind.String => value.GetString(),
        _ => value.GetRawText(),
    };
}
