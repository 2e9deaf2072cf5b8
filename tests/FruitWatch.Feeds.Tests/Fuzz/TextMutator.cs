using System.Text;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>Changes to a body that need not know what it is: bytes, slices, line ends, encodings, and the cells of rows.</summary>
internal static class TextMutator
{
    public static byte[] Bytes(Random random, byte[] body)
    {
        if (body.Length == 0)
            return [(byte)random.Next(256)];
        var at = random.Next(body.Length);
        var length = Math.Min(random.Next(1, 40), body.Length - at);
        switch (random.Next(9))
        {
            case 0:
                body[at] ^= (byte)(1 << random.Next(8));
                return body;
            case 1:
                body[at] = (byte)random.Next(256);
                return body;
            case 2:
                return body[..at];
            case 3:
                return body[at..];
            case 4:
                return [.. body[..at], .. body[(at + length)..]];
            case 5:
                return [.. body[..(at + length)], .. body[at..]];
            case 6:
                var other = random.Next(body.Length);
                var most = Math.Min(length, body.Length - other);
                return [.. body[..at], .. body.AsSpan(other, most), .. body[Math.Min(body.Length, at + most)..]];
            case 7:
                return [.. body[..at], .. Encoding.UTF8.GetBytes(Pick(random, Nasty.Strings)), .. body[at..]];
            default:
                return [.. body[..at], .. Encoding.UTF8.GetBytes(Pick(random, Nasty.Numbers)), .. body[(at + length)..]];
        }
    }

    public static byte[] Whole(Random random, byte[] body) => random.Next(10) switch
    {
        0 => [0xEF, 0xBB, 0xBF, .. body],
        1 => Encoding.Unicode.GetBytes(Encoding.UTF8.GetString(body)),
        2 => Encoding.Latin1.GetBytes(Encoding.UTF8.GetString(body)),
        3 => Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(body).Replace("\n", "\r\n", StringComparison.Ordinal)),
        4 => Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(body).Replace("\n", "\r", StringComparison.Ordinal)),
        5 => [.. body, .. "Unexpected error while streaming data"u8],
        6 => [.. body, .. body],
        7 => [.. "  \n\n"u8, .. body, .. " \t "u8],
        8 => [.. "<html>"u8, .. body],
        _ => Encoding.UTF8.GetBytes(Encoding.UTF8.GetString(body).Replace("2026", random.Next(1690, 2210).ToString("0000", System.Globalization.CultureInfo.InvariantCulture), StringComparison.Ordinal)),
    };

    /// <summary>Rows shuffled, removed and repeated; cells emptied, swapped and put to nonsense; columns swapped.</summary>
    public static byte[] Rows(Random random, byte[] body, char delimiter)
    {
        var lines = Encoding.UTF8.GetString(body).Split('\n').ToList();
        var at = random.Next(lines.Count);
        var other = random.Next(lines.Count);
        switch (random.Next(10))
        {
            case 0:
                lines.RemoveAt(at);
                break;
            case 1:
                lines.Insert(other, lines[at]);
                break;
            case 2:
                (lines[at], lines[other]) = (lines[other], lines[at]);
                break;
            case 3:
                lines = [.. lines.Take(1), .. lines.Skip(1).OrderBy(_ => random.Next())];
                break;
            case 4:
                var (one, two) = (random.Next(6), random.Next(6));
                lines = [.. lines.Select(line => Swapped(line, delimiter, one, two))];
                break;
            case 5:
                lines[at] += delimiter + Pick(random, Nasty.Strings);
                break;
            case 6:
                lines[at] = "\"" + lines[at];
                break;
            case 7:
                lines[at] = new string('x', random.Next(2000));
                break;
            default:
                lines[at] = Cell(random, lines[at], delimiter);
                break;
        }
        return Encoding.UTF8.GetBytes(string.Join('\n', lines));
    }

    /// <summary>A value or flag of a fixed-width line put to something else, or the line made longer or shorter.</summary>
    public static byte[] FixedWidth(Random random, byte[] body)
    {
        var lines = Encoding.UTF8.GetString(body).Split('\n').ToList();
        var at = random.Next(lines.Count);
        var line = lines[at];
        if (line.Length < 269)
            return Bytes(random, body);
        var value = 21 + (random.Next(31) * 8);
        lines[at] = random.Next(7) switch
        {
            0 => line[..value] + random.Next(-9999, 99999).ToString(System.Globalization.CultureInfo.InvariantCulture).PadLeft(5) + line[(value + 5)..],
            1 => line[..(value + 6)] + Pick(random, ["X", "D", "G", "é", " "]) + line[(value + 7)..],
            2 => line[..random.Next(260, 269)],
            3 => line + " ",
            4 => line[..11] + random.Next(0, 3000).ToString("0000", System.Globalization.CultureInfo.InvariantCulture) + line[15..],
            5 => line[..15] + random.Next(0, 14).ToString("00", System.Globalization.CultureInfo.InvariantCulture) + line[17..],
            _ => line[..17] + Pick(random, ["TMAX", "TMIN", "PRCP", "SNOW", "    "]) + line[21..],
        };
        return Encoding.UTF8.GetBytes(string.Join('\n', lines));
    }

    public static string Pick(Random random, string[] all) => all[random.Next(all.Length)];

    private static string Cell(Random random, string line, char delimiter)
    {
        var cells = line.Split(delimiter);
        var at = random.Next(cells.Length);
        cells[at] = random.Next(4) switch
        {
            0 => "",
            1 => Pick(random, Nasty.Strings),
            2 => cells[random.Next(cells.Length)],
            _ => Pick(random, Nasty.Numbers),
        };
        return string.Join(delimiter, cells);
    }

    private static string Swapped(string line, char delimiter, int one, int two)
    {
        var cells = line.Split(delimiter);
        if (one < cells.Length && two < cells.Length)
            (cells[one], cells[two]) = (cells[two], cells[one]);
        return string.Join(delimiter, cells);
    }
}
