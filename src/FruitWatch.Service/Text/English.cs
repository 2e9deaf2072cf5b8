using System.Globalization;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>English.</summary>
internal sealed partial class English(Units units) : Words(units)
{
    private static readonly CultureInfo s_culture = CultureInfo.GetCultureInfo("en-GB");

    /// <inheritdoc/>
    public override string Language => "en";

    /// <inheritdoc/>
    public override CultureInfo Culture => s_culture;

    /// <inheritdoc/>
    public override string Date(LocalDate date) => date.ToString("dddd d MMMM", Culture);

    /// <inheritdoc/>
    public override string ShortDate(LocalDate date) => date.ToString("d MMMM", Culture);

    /// <inheritdoc/>
    protected override string UsPerAreaSign => "gal per 100\u00a0sq\u00a0ft";

    /// <inheritdoc/>
    protected override string SquareFeetSign => "sq\u00a0ft";

    /// <inheritdoc/>
    protected override string LitresSaid(double litres) => $"{Number(litres)} {(litres == 1 ? "litre" : "litres")}";

    /// <inheritdoc/>
    protected override string GallonsSaid(double gallons) => $"{Number(gallons, 1)} {(gallons == 1 ? "gallon" : "gallons")}";
}
