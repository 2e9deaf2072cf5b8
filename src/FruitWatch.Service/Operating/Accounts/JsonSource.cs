using System.Globalization;
using System.Text;
using System.Text.Json;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>The text of a JSON file: parses it strictly, and says at which line and column something stands.</summary>
internal sealed class JsonSource(string name, byte[] utf8)
{
    /// <summary>JSON pointer (RFC 6901) of a member of what is at a pointer.</summary>
    public static string Step(string pointer, string member) =>
        $"{pointer}/{member.Replace("~", "~0", StringComparison.Ordinal).Replace("/", "~1", StringComparison.Ordinal)}";

    public JsonDocument Parse()
    {
        try
        {
            RefuseWhatTheParserLetsPass();
            return JsonDocument.Parse(utf8);
        }
        catch (JsonException error)
        {
            throw new VerbException(string.Create(
                CultureInfo.InvariantCulture,
                $"{name}, line {error.LineNumber + 1}, column {error.BytePositionInLine + 1}: not valid JSON: {Plain(error.Message)}"));
        }
    }

    public VerbException Error(string pointer, string message) => At(Start(pointer), pointer, message);

    /// <summary>A member that stands there twice, and text with half a character pair, which no reader could return.</summary>
    private void RefuseWhatTheParserLetsPass()
    {
        var reader = new Utf8JsonReader(utf8);
        var path = new JsonPath();
        var seen = new HashSet<string>();
        while (reader.Read())
        {
            if (reader.TokenType is JsonTokenType.PropertyName or JsonTokenType.String && !IsText(in reader))
                throw At(reader.TokenStartIndex, path.Current, "not valid text; expected whole characters");
            path.Follow(in reader);
            if (reader.TokenType == JsonTokenType.PropertyName && !seen.Add(path.Current))
                throw At(reader.TokenStartIndex, path.Current, "stands there twice; expected once");
        }
    }

    private static bool IsText(in Utf8JsonReader reader)
    {
        try
        {
            return reader.GetString() is not null;
        }
        catch (InvalidOperationException)
        {
            return false;
        }
    }

    /// <summary>Walks the text again to where a pointer's value starts: only a file with a mistake pays for places.</summary>
    private long Start(string pointer)
    {
        var reader = new Utf8JsonReader(utf8);
        var path = new JsonPath();
        while (reader.Read())
        {
            path.Follow(in reader);
            if (path.Current == pointer && reader.TokenType is not (JsonTokenType.PropertyName or JsonTokenType.EndArray or JsonTokenType.EndObject))
                break;
        }

        return reader.TokenStartIndex;
    }

    private VerbException At(long start, string pointer, string message)
    {
        var before = Encoding.UTF8.GetString(utf8, 0, (int)start);
        var (line, column) = (before.Count(c => c == '\n') + 1, before.Length - before.LastIndexOf('\n'));
        return new VerbException(string.Create(
            CultureInfo.InvariantCulture, $"{name}, line {line}, column {column} ({(pointer.Length == 0 ? "the whole file" : pointer)}): {message}."));
    }

    /// <summary>The parser's message without what speaks to its programmer.</summary>
    private static string Plain(string message) => message
        .Split(" LineNumber")[0]
        .Replace(" which is not supported in this mode. Change the reader options.", ".", StringComparison.Ordinal)
        .Replace("Expected depth to be zero at the end of the JSON payload. ", "", StringComparison.Ordinal);
}
