using System.Globalization;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Spanish.</summary>
internal sealed partial class Spanish(Units units) : Words(units)
{
    private static readonly CultureInfo s_culture = CultureInfo.GetCultureInfo("es-ES");

    /// <inheritdoc/>
    public override string Language => "es";

    /// <inheritdoc/>
    public override CultureInfo Culture => s_culture;

    /// <inheritdoc/>
    public override string Date(LocalDate date) => date.ToString("dddd d 'de' MMMM", Culture);

    /// <inheritdoc/>
    public override string ShortDate(LocalDate date) => date.ToString("d 'de' MMMM", Culture);

    /// <inheritdoc/>
    protected override string UsPerAreaSign => "gal por 100\u00a0pies²";

    /// <inheritdoc/>
    protected override string SquareFeetSign => "pies²";

    /// <inheritdoc/>
    protected override string LitresSaid(double litres) => $"{Number(litres)} {(litres == 1 ? "litro" : "litros")}";

    /// <inheritdoc/>
    protected override string GallonsSaid(double gallons) => $"{Number(gallons, 1)} {(gallons == 1 ? "galón" : "galones")}";
}
