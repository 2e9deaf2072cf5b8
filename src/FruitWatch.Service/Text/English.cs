using System.Globalization;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>English.</summary>
internal sealed partial class English : Words
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
    public override string Litres(double litres) => $"{Number(litres)} {(litres == 1 ? "litre" : "litres")}";
}
