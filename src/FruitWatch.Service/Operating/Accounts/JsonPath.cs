using System.Text.Json;

namespace FruitWatch.Service.Operating.Accounts;

/// <summary>Follows a reader through a JSON text and knows the pointer (RFC 6901) of the token it is at.</summary>
internal sealed class JsonPath
{
    private readonly Stack<(string Pointer, int Index)> open = new();

    /// <summary>Pointer of the value, or of the member whose name was read last.</summary>
    public string Current { get; private set; } = "";

    public void Follow(in Utf8JsonReader reader)
    {
        switch (reader.TokenType)
        {
            case JsonTokenType.PropertyName:
                Current = JsonSource.Step(open.Peek().Pointer, reader.GetString()!);
                return;
            case JsonTokenType.EndArray or JsonTokenType.EndObject:
                Current = open.Pop().Pointer;
                return;
        }

        if (open.Count > 0 && open.Peek().Index >= 0)
        {
            var (list, index) = open.Pop();
            open.Push((list, index + 1));
            Current = $"{list}/{index}";
        }

        if (reader.TokenType == JsonTokenType.StartArray)
            open.Push((Current, 0));
        else if (reader.TokenType == JsonTokenType.StartObject)
            open.Push((Current, -1));
    }
}
