using System.Globalization;
using System.Text.Json.Nodes;

namespace FruitWatch.Service.Tests.Api.Fuzz;

/// <summary>Values that a program should not have sent.</summary>
internal static class OddValues
{
    private static readonly string[] s_texts =
    [
        "", " ", "0", "-1", "1", "null", "true", "NaN", "9223372036854775807", "9223372036854775808", "1e309", "2026-02-30", "0001-01-01", "9999-12-31", "-9998-01-01",
        "25:00", "23:59:60", "Europe/Madrid", "Mars/Phobos", "a\0b", "\u0001\u001f\u007f", "\u202eabc\u2066", "ñandú 🍄", "e\u0301\u0301\u0301", "'; drop table Beds; --", "%", "%00", "..", "../../etc",
        "<script>alert(1)</script>", "=1+1", "{{7*7}}", "\r\nX-Injected: yes", "\ufeff", "\ufffd", "wine-cap", "hardwood-chips", "open", "read", "watered", "pins", "topped-up", "me", "everybody", "csv",
        "00000000-0000-0000-0000-000000000000", "5d0cbb0e-7a1c-4b35-9f6e-2c1d8a40b7f3", "İıſKÅ", "\ud83c\udf44\ud83c\udf44", "a,b,,c", "*", "\"1\"", "W/\"1\"",
    ];

    public static string Text(Random random) => random.Next(12) switch
    {
        0 => new string('x', random.Next(1, 3000)),
        1 => new string('é', random.Next(1, 500)),
        2 => string.Concat(Enumerable.Range(0, random.Next(1, 30)).Select(_ => (char)random.Next(1, 0xd7ff))),
        3 => random.NextInt64().ToString(CultureInfo.InvariantCulture),
        _ => s_texts[random.Next(s_texts.Length)],
    };

    /// <summary>JSON as text, so that it can be what no library writes: numbers beyond all numbers, half characters, names given twice.</summary>
    public static string Json(Random random) => random.Next(16) switch
    {
        0 => "null",
        1 => random.Next(2) == 0 ? "true" : "false",
        2 => new[] { "0", "-0", "-1", "1.5", "1e308", "1e999", "-1e999", "1e-400", "9223372036854775807", "9223372036854775808", "123456789012345678901234567890", "0.1", "3" }[random.Next(13)],
        3 => "[]",
        4 => "{}",
        5 => "[" + string.Join(',', Enumerable.Range(0, random.Next(1, 40)).Select(_ => "1")) + "]",
        6 => "[{}]",
        7 => string.Concat(Enumerable.Repeat("[", 40)) + string.Concat(Enumerable.Repeat("]", 40)),
        8 => string.Concat(Enumerable.Repeat("{\"a\":", 12)) + "1" + new string('}', 12),
        9 => "\"\\ud800\"",
        10 => "{\"a\":1,\"a\":2}",
        11 => "\"" + new string('y', random.Next(1, 4000)) + "\"",
        12 => random.NextDouble().ToString("R", CultureInfo.InvariantCulture),
        13 => random.Next(-10, 10000).ToString(CultureInfo.InvariantCulture),
        _ => JsonValue.Create(Text(random)).ToJsonString(),
    };
}
