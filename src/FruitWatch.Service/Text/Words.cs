using System.Globalization;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>
/// All that the service says to people, in one language. Abstract, so that a text missing in a language does not compile.
/// Parts by subject: notices, mail, pages.
/// </summary>
internal abstract partial class Words
{
    private static readonly Words[] s_all = [new English(), new Spanish()];

    /// <summary>Every language that the service speaks.</summary>
    public static IReadOnlyList<Words> All => s_all;

    /// <summary>The words of a language; English for one that the service does not speak.</summary>
    /// <param name="language">A language tag such as <c>es</c> or <c>es-MX</c>.</param>
    public static Words For(string language)
    {
        ArgumentNullException.ThrowIfNull(language);
        var primary = language.Split('-', '_')[0];
        return Array.Find(s_all, words => words.Language.Equals(primary, StringComparison.OrdinalIgnoreCase)) ?? s_all[0];
    }

    /// <summary>Two-letter code of the language.</summary>
    public abstract string Language { get; }

    /// <summary>Its numbers and dates.</summary>
    public abstract CultureInfo Culture { get; }

    /// <summary>A day with its weekday and without its year, such as "Monday 3 March".</summary>
    public abstract string Date(LocalDate date);

    /// <summary>A day without weekday and year, such as "3 March".</summary>
    public abstract string ShortDate(LocalDate date);

    /// <summary>A number with at most so many decimals.</summary>
    public string Number(double value, int decimals = 0) =>
        // Adding zero turns a rounded −0 into 0.
        (Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0)
            .ToString(decimals == 0 ? "#,0" : "#,0." + new string('#', decimals), Culture);

    /// <summary>A share as a percentage.</summary>
    public string Percent(double share) => $"{Number(100 * share)}\u00a0%";

    /// <summary>A temperature. [°C]</summary>
    public string Celsius(double degrees) => $"{Number(degrees)}\u00a0°C";

    /// <summary>A depth of water. [mm]</summary>
    public string Millimetres(double mm) => $"{Number(mm)}\u00a0mm";

    /// <summary>A volume of water. [L]</summary>
    public abstract string Litres(double litres);

    /// <summary>A species' name.</summary>
    public string NameOf(Species species) => species.NameIn(Language);

    /// <summary>A material's name.</summary>
    public string NameOf(Material material) => material.NameIn(Language);
}
