using FruitWatch.Model.Account;
using NodaTime;

namespace FruitWatch.Model.Outlooks;

/// <summary>What an action today would change, by the same futures with it and without it.</summary>
/// <param name="Counts">By what the two are compared.</param>
/// <param name="By">Last day that is compared.</param>
/// <param name="Members">Number of futures.</param>
/// <param name="Alone">Futures with pins, with a harvest or with the layer below its mark by then, when the bed is left alone.</param>
/// <param name="Acted">The same when the action is taken.</param>
/// <param name="BadDaysAlone">Mean number of days too dry or too wet, when the bed is left alone. [d]</param>
/// <param name="BadDaysActed">The same when the action is taken. [d]</param>
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
            var fewerBadDays = BadDaysAlone - BadDaysActed >= EvenDays;
            return Counts == WhatCounts.Moisture
                ? fewerBadDays
                : (double)(Acted - Alone) / Members >= EvenChance || (!ActingIsWorse && fewerBadDays);
        }
    }

    /// <summary>Whether acting is clearly the worse course.</summary>
    public bool ActingIsWorse => Counts == WhatCounts.Moisture
        ? BadDaysActed - BadDaysAlone >= EvenDays
        : (double)(Alone - Acted) / Members >= EvenChance;

    /// <summary>Whether to advise it: where it is better, and where it was advised before, unless it has become worse.</summary>
    internal bool IsAdvised(bool already) => ActingIsBetter || (already && !ActingIsWorse);

    /// <summary>What counts for a bed that woke up in a phase.</summary>
    public static WhatCounts CountsIn(Phase phase) => phase switch
    {
        Phase.Ready or Phase.Pinning => WhatCounts.Pins,
        Phase.Growing => WhatCounts.Harvest,
        _ => WhatCounts.Moisture,
    };

    /// <summary>Compares a course of action with leaving the bed alone.</summary>
    /// <param name="counts">By what.</param>
    /// <param name="outlook">The outlook.</param>
    /// <param name="acted">One of its courses of action.</param>
    public static WhatIf Of(WhatCounts counts, BedOutlook outlook, ActionOutlook acted)
    {
        ArgumentNullException.ThrowIfNull(outlook);
        ArgumentNullException.ThrowIfNull(acted);
        var by = outlook.Today.PlusDays(Math.Min(Days, outlook.Days) - 1);
        return new WhatIf(
            counts,
            by,
            outlook.Members,
            CountOf(outlook.Alone),
            CountOf(acted),
            outlook.Alone.DryDays + outlook.Alone.WetDays,
            acted.DryDays + acted.WetDays);

        int CountOf(ActionOutlook outcome) => counts switch
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
