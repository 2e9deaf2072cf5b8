using System.Globalization;

namespace FruitWatch.Model.Catalogue.Reading;

/// <summary>Values that a number in the catalogue may take.</summary>
internal readonly record struct Limits(double Min, double Max, bool MinAllowed = true)
{
    /// <summary>More than 0 and at most <paramref name="max"/>.</summary>
    public static Limits AboveZeroTo(double max) => new(0, max, MinAllowed: false);

    /// <summary>0 to 1, both allowed.</summary>
    public static Limits Share => new(0, 1);

    public bool Holds(double value) => value <= Max && (MinAllowed ? value >= Min : value > Min);

    public override string ToString() => MinAllowed
        ? string.Create(CultureInfo.InvariantCulture, $"from {Min} to {Max}")
        : string.Create(CultureInfo.InvariantCulture, $"above {Min} and at most {Max}");
}
