using System.Globalization;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Verification;

/// <summary>Ranked probability score of chances for categories in an order, such as dry, right, wet.</summary>
/// <remarks>
/// Epstein 1969, J. Appl. Meteor. 8:985–987; as in Wilks 2011, Statistical Methods in the Atmospheric Sciences, not divided by
/// the number of categories less one.
/// </remarks>
public static class Rps
{
    /// <summary>Sum over categories of the square of the chance minus the outcome, both added up from the first. 0 at best.</summary>
    /// <param name="chances">One for each category, adding up to 1.</param>
    /// <param name="category">The category that came, the first being 0.</param>
    /// <exception cref="ArgumentException">The chances do not add up to 1, or there is no such category.</exception>
    public static double Of(ReadOnlySpan<double> chances, int category)
    {
        if (category < 0 || category >= chances.Length)
            throw new ArgumentOutOfRangeException(nameof(category), category, $"There are {chances.Length} categories, the first being 0.");
        double below = 0, sum = 0;
        for (var k = 0; k < chances.Length; k++)
        {
            below += Chance.Checked(chances[k], nameof(chances));
            var error = below - (k >= category ? 1 : 0);
            sum += error * error;
        }

        return Math.Abs(below - 1) < 1e-9
            ? sum
            : throw new ArgumentException(
                string.Create(CultureInfo.InvariantCulture, $"The chances of all categories add up to {below}, not to 1."), nameof(chances));
    }
}
