using System.Globalization;
using System.Net;
using System.Text;

namespace FruitWatch.Service.Charts;

/// <summary>Writes SVG by hand: shapes with classes, no styles within, so that it obeys the strictest content policy.</summary>
internal sealed class Svg
{
    private readonly StringBuilder text = new();

    /// <summary>Begins an element; values are escaped, numbers come in invariant form.</summary>
    public Svg Open(string element, params ReadOnlySpan<(string Name, object Value)> attributes) => Write(element, attributes, ">");

    public Svg Close(string element)
    {
        text.Append("</").Append(element).Append('>');
        return this;
    }

    /// <summary>An element without content.</summary>
    public Svg Shape(string element, params ReadOnlySpan<(string Name, object Value)> attributes) => Write(element, attributes, "/>");

    /// <summary>An element with text in it.</summary>
    public Svg Text(string element, string content, params ReadOnlySpan<(string Name, object Value)> attributes)
    {
        Write(element, attributes, ">");
        text.Append(WebUtility.HtmlEncode(content));
        return Close(element);
    }

    /// <summary>A line through points; where a value is missing, it breaks.</summary>
    public Svg Line(string classes, IEnumerable<(double X, double Y)?> points)
    {
        var path = new StringBuilder();
        var down = false;
        foreach (var point in points)
        {
            if (point is not var (x, y))
            {
                down = false;
                continue;
            }

            path.Append(down ? 'L' : 'M').Append(Number(x)).Append(' ').Append(Number(y));
            down = true;
        }

        return path.Length > 0 ? Shape("path", ("class", classes), ("d", path.ToString())) : this;
    }

    public static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);

    public override string ToString() => text.ToString();

    private Svg Write(string element, ReadOnlySpan<(string Name, object Value)> attributes, string end)
    {
        text.Append('<').Append(element);
        foreach (var (name, value) in attributes)
        {
            var written = value switch
            {
                double number => Number(number),
                int number => number.ToString(CultureInfo.InvariantCulture),
                _ => WebUtility.HtmlEncode((string)value),
            };
            text.Append(' ').Append(name).Append("=\"").Append(written).Append('"');
        }

        text.Append(end);
        return this;
    }
}
