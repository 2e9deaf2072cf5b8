using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Text;
using FruitWatch.Service.Web;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Log;

/// <summary>What is asked of somebody who makes an entry of a kind.</summary>
/// <param name="Amount">How much; null where the kind has no amount.</param>
/// <param name="Choice">Which; null where there is nothing to choose.</param>
/// <param name="Depth">How deep, in cm; null where nothing is laid.</param>
internal sealed record LogQuestions(AmountAsked? Amount = null, LogChoice? Choice = null, AmountAsked? Depth = null)
{
    private static readonly AmountAsked s_percent = new(LogUnit.Percent, 0, 100, 0.01);

    private static readonly Dictionary<string, LogQuestions> s_byKind = new()
    {
        [LogKinds.Watered] = new(new AmountAsked(LogUnit.Litres, 0.1, 100_000, 1)),
        [LogKinds.Gauge] = new(new AmountAsked(LogUnit.Millimetres, 0, 2000, 1)),
        [LogKinds.Squeeze] = new(Choice: LogChoice.Squeeze),
        [LogKinds.Moisture] = new(s_percent with { Low = 1, High = 99 }),
        [LogKinds.Cover] = new(Choice: LogChoice.Cover),
        [LogKinds.Mycelium] = new(s_percent),
        [LogKinds.Picked] = new(new AmountAsked(LogUnit.Kilograms, 0, 10_000, 1)),
        [LogKinds.ToppedUp] = new(Choice: LogChoice.Material, Depth: new AmountAsked(LogUnit.Centimetres, 0.5, 300, 0.01)),
    };

    private static readonly LogQuestions s_none = new();

    /// <summary>The questions of a kind, in the units of whoever is asked; none where only its day counts.</summary>
    public static LogQuestions Of(string kind, Units units = Units.Metric)
    {
        var asked = s_byKind.GetValueOrDefault(kind, s_none);
        return units == Units.Metric ? asked : asked with { Amount = asked.Amount?.InUsUnits(), Depth = asked.Depth?.InUsUnits() };
    }

    /// <summary>What can be chosen, as it is kept.</summary>
    public static IEnumerable<string> Choices(LogChoice choice, BedCatalogue catalogue) => choice switch
    {
        LogChoice.Squeeze => ApiJson.WordsOf<Squeeze>(),
        LogChoice.Cover => ApiJson.WordsOf<Cover>(),
        _ => catalogue.Materials.Keys,
    };
}

/// <summary>An amount as a grower gives it.</summary>
/// <param name="Unit">In which unit.</param>
/// <param name="Low">Least.</param>
/// <param name="High">Most.</param>
/// <param name="Kept">What is kept for each unit given: a percentage is kept as a share, cm as m.</param>
internal sealed record AmountAsked(LogUnit Unit, double Low, double High, double Kept)
{
    /// <summary>The same in US customary units, with the same bounds. A share has no unit.</summary>
    public AmountAsked InUsUnits() => Unit switch
    {
        LogUnit.Litres => Times(LogUnit.Gallons, Words.Gallon),
        LogUnit.Millimetres => Times(LogUnit.Inches, Words.Inch * 1000),
        LogUnit.Kilograms => Times(LogUnit.Pounds, Words.Pound),
        LogUnit.Centimetres => Times(LogUnit.Inches, Words.Inch * 100),
        _ => this,
    };

    // Bounds as somebody would say them: within the metric ones, to two digits after the mark.
    private AmountAsked Times(LogUnit unit, double size) =>
        new(unit, Math.Ceiling(Low / size * 100) / 100, Math.Floor(High / size * 100) / 100, Kept * size);
}

/// <summary>Units in which amounts are given.</summary>
internal enum LogUnit
{
    Litres,
    Millimetres,
    Percent,
    Kilograms,
    Centimetres,
    Gallons,
    Inches,
    Pounds,
}

/// <summary>What is to be chosen from.</summary>
internal enum LogChoice
{
    Squeeze,
    Cover,
    Material,
}
