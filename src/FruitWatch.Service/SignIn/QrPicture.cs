using System.Globalization;
using System.Text;
using Microsoft.AspNetCore.Html;
using QRCoder;

namespace FruitWatch.Service.SignIn;

/// <summary>A QR code as SVG in the page: no image to fetch, nothing that the content policy would refuse.</summary>
internal static class QrPicture
{
    /// <param name="text">What a phone reads from it.</param>
    /// <param name="label">What it is, for those who do not see it.</param>
    public static IHtmlContent Of(string text, string label)
    {
        using var code = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        var size = code.ModuleMatrix.Count;
        var dark = new StringBuilder();
        for (var y = 0; y < size; y++)
        {
            for (var x = 0; x < size; x++)
            {
                if (code.ModuleMatrix[y][x])
                    dark.Append(CultureInfo.InvariantCulture, $"M{x} {y}h1v1h-1z");
            }
        }

        var svg = new HtmlContentBuilder();
        svg.AppendHtml(string.Create(CultureInfo.InvariantCulture, $"<svg class=\"qr\" viewBox=\"0 0 {size} {size}\" role=\"img\" shape-rendering=\"crispEdges\" aria-label=\""));
        svg.Append(label);
        svg.AppendHtml(string.Create(CultureInfo.InvariantCulture, $"\"><rect class=\"light\" width=\"{size}\" height=\"{size}\"/><path class=\"dark\" d=\"{dark}\"/></svg>"));
        return svg;
    }
}
