using System.Globalization;
using System.Text;
using System.Text.Encodings.Web;
using Microsoft.AspNetCore.Html;
using QRCoder;

namespace FruitWatch.Service.Pages;

/// <summary>
/// A QR code as SVG within a page: drawn by the server, so that a secret goes to nobody else, and without style attributes, which the
/// pages' policy would not let through. What it says has to stand beside it in letters.
/// </summary>
internal static class QrCode
{
    /// <summary>Draws it dark on light whatever the page's colours are; many readers take no other.</summary>
    /// <param name="text">What a reader is told.</param>
    /// <param name="label">What it is, for those who do not see it.</param>
    public static IHtmlContent Of(string text, string label)
    {
        using var generator = new QRCodeGenerator();
        using var code = generator.CreateQrCode(text, QRCodeGenerator.ECCLevel.M);
        // The matrix comes with the four light modules around it that a reader needs to find it (ISO/IEC 18004).
        var rows = code.ModuleMatrix;
        var dark = new StringBuilder();
        for (var y = 0; y < rows.Count; y++)
        {
            for (var x = 0; x < rows[y].Length; x++)
            {
                var from = x;
                while (x < rows[y].Length && rows[y][x])
                    x++;
                if (x > from)
                    dark.Append(CultureInfo.InvariantCulture, $"M{from} {y}h{x - from}v1h-{x - from}z");
            }
        }

        var size = rows.Count.ToString(CultureInfo.InvariantCulture);
        return new HtmlString(
            $"<svg class=\"qr\" viewBox=\"0 0 {size} {size}\" role=\"img\" aria-label=\"{HtmlEncoder.Default.Encode(label)}\" shape-rendering=\"crispEdges\">"
            + $"<rect width=\"{size}\" height=\"{size}\" fill=\"#fff\"/><path fill=\"#000\" d=\"{dark}\"/></svg>");
    }
}
