using FruitWatch.Model.Account;
using NodaTime;

namespace FruitWatch.Model.Outlooks;

/// <summary>What an action today would change, by the same futures with it and without it.</summary>
/// <remarks>
/// What counts depends on the phase: while the spawn runs or rests, days that the layer is too dry or too wet; once it is ready, the
/// chance of pins; once pins stand, the chance of a harvest. Where that is even, the fewer bad days win.
/// </remarks>
public sealed record WhatIf(WhatCounts Counts, LocalDate By, int Members, int Alone, int Acted, double BadDaysAlone, double BadDaysActed)
{
    /// <summary>How far ahead outcomes are compared. Chosen: as far as forecasts of temperature have some skill (Stern and Davidson 2015). [d]</summary>
    public const int Days = 14;

    /// <summary>A difference of chances below this is taken for even: a sixteenth of 64 futures is four of them. Chosen.</summary>
    public const double EvenChance = 1.0 / 16;

    /// <summary>A difference of bad days below this is taken for even. Chosen. [d]</summary>
    public const double EvenDays = 0.5;

    /// <summary>Whether acting is the better course.</summary>
    public bool ActingIsBetter
    {
        get
        {
            var gain = (double)(Acted - Alone) / Members;
            // More futures in which the bed falls dry are worse, more in which it pins are better.
            if (Counts == WhatCounts.Moisture)
                return BadDaysAlone - BadDaysActed >= EvenDays;
            return gain >= EvenChance || (gain > -EvenChance && BadDaysAlone - BadDaysActed >= EvenDays);
        }
    }

    /// <summary>Compares a course of action with leaving the bed alone.</summary>
    /// <param name="phase">Phase on the morning of the outlook.</param>
    /// <param name="outlook">The outlook.</param>
    /// <param name="acted">One of its courses of action.</param>
    public static WhatIf Of(Phase phase, BedOutlook outlook, ActionOutlook acted)
    {
        ArgumentNullException.ThrowIfNull(outlook);
        ArgumentNullException.ThrowIfNull(acted);
        var by = outlook.Today.PlusDays(Math.Min(Days, outlook.Days) - 1);
        var counts = phase switch
        {
            Phase.Ready or Phase.Pinning => WhatCounts.Pins,
            Phase.Growing => WhatCounts.Harvest,
            _ => WhatCounts.Moisture,
        };
        return new WhatIf(
            counts, by, outlook.Members, Of(outlook.Alone), Of(acted),
            outlook.Alone.DryDays + outlook.Alone.WetDays, acted.DryDays + acted.WetDays);

        int Of(ActionOutlook outcome) => counts switch
        {
            WhatCounts.Pins => outcome.Pins.CountBy(by),
            WhatCounts.Harvest => outcome.Harvest.CountBy(by),
            _ => outcome.Dry.CountBy(by),
        };
    }
}

/// <summary>By what two courses of action are compared.</summary>
public enum WhatCounts : byte
{
    /// <summary>Days that the layer is too dry or too wet; the chance quoted is that of falling below the water mark.</summary>
    Moisture,

    /// <summary>The chance of pins.</summary>
    Pins,

    /// <summary>The chance of a harvest.</summary>
    Harvest,
}
