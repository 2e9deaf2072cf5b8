using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>
/// All that the service says to people, in one language. Abstract, so that a text missing in a language does not compile.
/// Parts by subject: notices, mail, pages.
/// </summary>
internal abstract partial class Words
{
    private static readonly Words[] s_all = [new English(Units.Metric), new Spanish(Units.Metric)];
    private static readonly Words[] s_us = [new English(Units.UsCustomary), new Spanish(Units.UsCustomary)];

    protected Words(Units units) => Units = units;

    /// <summary>Every language that the service speaks, in metric units.</summary>
    public static IReadOnlyList<Words> All => s_all;

    /// <summary>The words of a language; English for one that the service does not speak.</summary>
    /// <param name="language">A language tag such as <c>es</c> or <c>es-MX</c>.</param>
    /// <param name="units">Units that measures are said in.</param>
    public static Words For(string language, Units units = Units.Metric)
    {
        ArgumentNullException.ThrowIfNull(language);
        var primary = language.Split('-', '_')[0];
        var spoken = units == Units.UsCustomary ? s_us : s_all;
        return Array.Find(spoken, words => words.Language.Equals(primary, StringComparison.OrdinalIgnoreCase)) ?? spoken[0];
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

    /// <summary>A species' name.</summary>
    public string NameOf(Species species) => species.NameIn(Language);

    /// <summary>A material's name.</summary>
    public string NameOf(Material material) => material.NameIn(Language);
}
