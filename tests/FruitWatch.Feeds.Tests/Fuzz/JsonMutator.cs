using System.Text;
using System.Text.Json;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>Changes to JSON that keep most of it well-formed: values replaced, moved and repeated, names changed and doubled.</summary>
internal static class JsonMutator
{
    private readonly record struct Token(int Start, int End, JsonTokenType Type);

    public static byte[] Mutate(Random random, byte[] body)
    {
        var tokens = Tokens(body);
        if (tokens.Count < 2)
            return TextMutator.Bytes(random, body);
        var token = tokens[random.Next(tokens.Count)];
        // Mostly single values: a broken name or list is soon refused, and what lies behind it is never reached.
        for (var tries = 3; tries > 0 && (token.Type is JsonTokenType.PropertyName || IsContainer(token)); tries--)
            token = tokens[random.Next(tokens.Count)];
        if (token.Type == JsonTokenType.PropertyName)
            return Name(random, body, token, tokens);
        return random.Next(IsContainer(token) ? 8 : 24) switch
        {
            0 => Put(body, token, tokens[random.Next(tokens.Count)], body),
            1 => Repeat(body, token, random.Next(1, 4)),
            2 => Put(body, token, ""),
            3 => Put(body, token, Nested(random, body[token.Start..token.End])),
            4 => Put(body, token, JsonSerializer.Serialize(new string('é', random.Next(3000)))),
            5 => Swap(body, token, tokens[random.Next(tokens.Count)]),
            _ => Put(body, token, OfItsKind(random, token)),
        };
    }

    /// <summary>Puts a value of another text in place of one of the same kind, so that the result often still means something.</summary>
    public static byte[] Graft(Random random, byte[] body, byte[] other)
    {
        var (tokens, donors) = (Tokens(body), Tokens(other));
        if (tokens.Count == 0 || donors.Count == 0)
            return body;
        var token = tokens[random.Next(tokens.Count)];
        for (var tries = 20; tries > 0; tries--)
        {
            var donor = donors[random.Next(donors.Count)];
            if (donor.Type == token.Type)
                return Put(body, token, donor, other);
        }
        return body;
    }

    private static bool IsContainer(Token token) => token.Type is JsonTokenType.EndArray or JsonTokenType.EndObject;

    private static string OfItsKind(Random random, Token token) =>
        token.Type == JsonTokenType.String && random.Next(5) > 0
            ? JsonSerializer.Serialize(TextMutator.Pick(random, Nasty.Strings))
            : TextMutator.Pick(random, Nasty.Numbers);

    private static byte[] Name(Random random, byte[] body, Token name, List<Token> tokens) => random.Next(4) switch
    {
        0 => Put(body, name, "\"renamed\""),
        1 => Put(body, name, tokens.Where(one => one.Type == JsonTokenType.PropertyName).ElementAt(random.Next(tokens.Count(one => one.Type == JsonTokenType.PropertyName))), body),
        2 => Put(body, name, JsonSerializer.Serialize(TextMutator.Pick(random, Nasty.Strings))),
        _ => Put(body, name, $"{Encoding.UTF8.GetString(body[name.Start..name.End])}: 1, {Encoding.UTF8.GetString(body[name.Start..name.End])}"),
    };

    private static byte[] Nested(Random random, byte[] value)
    {
        var depth = random.Next(1, 80);
        return [.. Enumerable.Repeat((byte)'[', depth), .. value, .. Enumerable.Repeat((byte)']', depth)];
    }

    private static byte[] Repeat(byte[] body, Token token, int times)
    {
        var more = new List<byte>();
        for (var i = 0; i < times; i++)
            more.AddRange([(byte)',', .. body.AsSpan(token.Start, token.End - token.Start)]);
        return [.. body[..token.End], .. more, .. body[token.End..]];
    }

    private static byte[] Swap(byte[] body, Token one, Token two)
    {
        var (first, second) = one.Start <= two.Start ? (one, two) : (two, one);
        if (second.Start < first.End)
            return body;
        return
        [
            .. body[..first.Start], .. body.AsSpan(second.Start, second.End - second.Start), .. body.AsSpan(first.End, second.Start - first.End),
            .. body.AsSpan(first.Start, first.End - first.Start), .. body[second.End..],
        ];
    }

    private static byte[] Put(byte[] body, Token token, string text) => Put(body, token, Encoding.UTF8.GetBytes(text));

    private static byte[] Put(byte[] body, Token token, Token from, byte[] source) => Put(body, token, source[from.Start..from.End]);

    private static byte[] Put(byte[] body, Token token, byte[] text) => [.. body[..token.Start], .. text, .. body[token.End..]];

    /// <summary>Every name and every value, containers as a whole; as far as the body is well-formed.</summary>
    private static List<Token> Tokens(byte[] body)
    {
        var tokens = new List<Token>();
        var open = new Stack<int>();
        try
        {
            var reader = new Utf8JsonReader(body, new JsonReaderOptions { MaxDepth = 200 });
            while (reader.Read())
            {
                var (start, end) = ((int)reader.TokenStartIndex, (int)reader.BytesConsumed);
                if (reader.TokenType is JsonTokenType.StartArray or JsonTokenType.StartObject)
                    open.Push(start);
                else if (reader.TokenType is JsonTokenType.EndArray or JsonTokenType.EndObject)
                    tokens.Add(new Token(open.Pop(), end, reader.TokenType));
                else if (reader.TokenType == JsonTokenType.PropertyName)
                    tokens.Add(new Token(start, start + reader.ValueSpan.Length + 2, reader.TokenType));
                else
                    tokens.Add(new Token(start, end, reader.TokenType));
            }
        }
        catch (JsonException)
        {
            // An earlier change broke it; what came before can still be changed.
        }
        return tokens;
    }
}
