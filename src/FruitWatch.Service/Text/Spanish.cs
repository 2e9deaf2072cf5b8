using System.Globalization;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Spanish.</summary>
internal sealed partial class Spanish : Words
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
    public override string Litres(double litres) => $"{Number(litres)} {(litres == 1 ? "litro" : "litros")}";
}
