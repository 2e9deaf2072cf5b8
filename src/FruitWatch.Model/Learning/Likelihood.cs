using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;

namespace FruitWatch.Model.Learning;

/// <summary>
/// How likely each observation is for a bed as the account has it: the logarithm of its likelihood over that of a bed that is
/// just as was seen, so 0 at best.
/// </summary>
internal sealed class Likelihood(LearningDefaults errors)
{
    // Midway between the relative moistures that the classes stand for: 0.2 | 0.8 | 1.3.
    private const double CrumblesBelow = 0.5;
    private const double DripsAbove = 1.05;

    /// <summary>
    /// A squeeze test names a range of moistures, not one: its chance is that of moisture and error together falling into it.
    /// </summary>
    /// <param name="result">The class named.</param>
    /// <param name="today">The layer.</param>
    /// <param name="water">Water in it. [mm]</param>
    public double OfSqueeze(Squeeze result, in BedDay today, double water)
    {
        var moisture = WetBasis(today, water);
        var crumbles = (WetBasis(today, At(today, CrumblesBelow)) - moisture) / errors.SdMoisture;
        var drips = (WetBasis(today, At(today, DripsAbove)) - moisture) / errors.SdMoisture;
        var half = (drips - crumbles) / 2;
        return result switch
        {
            Squeeze.Crumbles => Math.Log(StandardNormal.Above(-crumbles)),
            Squeeze.Right => Math.Log(StandardNormal.Between(crumbles, drips) / StandardNormal.Between(-half, half)),
            _ => Math.Log(StandardNormal.Above(drips)),
        };
    }

    /// <summary>A measured moisture.</summary>
    /// <param name="wetBasis">As read. 0…1</param>
    /// <param name="today">The layer.</param>
    /// <param name="water">Water in it. [mm]</param>
    public double OfMoisture(double wetBasis, in BedDay today, double water) => Normal((wetBasis - WetBasis(today, water)) / errors.SdMoisture);

    /// <summary>
    /// A share of the bed that mycelium has reached. Nobody reads less than nothing or more than all of it: those two answers
    /// stand for the whole tail.
    /// </summary>
    /// <param name="share">As seen. 0…1</param>
    /// <param name="run">Spawn run of the account. 0…1</param>
    public double OfMycelium(double share, double run) => share switch
    {
        <= 0 => Math.Log(2 * StandardNormal.Above(run / errors.SdMycelium)),
        >= 1 => Math.Log(2 * StandardNormal.Above((1 - run) / errors.SdMycelium)),
        _ => Normal((share - run) / errors.SdMycelium),
    };

    /// <summary>Pins seen some days from when the account has them.</summary>
    /// <param name="daysOff">Days between the two.</param>
    /// <param name="sincePinsSeen">
    /// Whether the account counts from pins seen, too: then the errors of two dates lie in the time between them.
    /// </param>
    public double OfPins(int daysOff, bool sincePinsSeen) =>
        Normal(daysOff / (sincePinsSeen ? Math.Sqrt(2) * errors.SdPinsDays : errors.SdPinsDays));

    /// <summary>
    /// Pins seen, while the account has none up to some days later and is not followed further: the mean over the dates that are
    /// left, each of the next twenty days being as good as the other.
    /// </summary>
    /// <param name="daysFollowed">Days after those pins that the account was followed without.</param>
    /// <param name="sincePinsSeen">As above.</param>
    public double OfPinsWithout(int daysFollowed, bool sincePinsSeen)
    {
        var sum = 0.0;
        for (var day = 1; day <= UnseenAccount.MostDays; day++)
            sum += Math.Exp(OfPins(daysFollowed + day, sincePinsSeen));
        return Math.Log(sum / UnseenAccount.MostDays);
    }

    /// <summary>
    /// No pins found some days after the account has them: the chance that they are later still, over that for a bed that has
    /// them on the day of the look.
    /// </summary>
    /// <param name="daysSince">Days from the account's pins to the look. At least 0.</param>
    /// <param name="sincePinsSeen">As above.</param>
    public double OfNoPins(int daysSince, bool sincePinsSeen) =>
        Math.Log(2 * StandardNormal.Above(daysSince / (sincePinsSeen ? Math.Sqrt(2) * errors.SdPinsDays : errors.SdPinsDays)));

    private static double Normal(double z) => -z * z / 2;

    private static double At(in BedDay today, double relative) => today.Low + relative * (today.Capacity - today.Low);

    private static double WetBasis(in BedDay today, double water) => water / (water + today.DryMass);
}
