using System.Runtime.CompilerServices;

namespace FruitWatch.Model.Verification;

/// <summary>A score of what is not a number would be none either, and nobody would see why.</summary>
internal static class Finite
{
    /// <exception cref="ArgumentOutOfRangeException">Not a number, or infinite.</exception>
    public static double Checked(double value, [CallerArgumentExpression(nameof(value))] string? name = null) =>
        double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, value, "Must be a finite number; leave unknown values out.");
}
