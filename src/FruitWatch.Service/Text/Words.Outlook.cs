using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Outlooks;
using NodaTime;

namespace FruitWatch.Service.Text;

// What is said of a bed in many futures.
internal abstract partial class Words
{
    public abstract string OutlookTitle { get; }

    /// <summary>Where the futures come from, in one sentence.</summary>
    /// <param name="members">How many there are.</param>
    /// <param name="source">What their first days come from.</param>
    /// <param name="lastForecastDay">The last of those days.</param>
    /// <param name="years">Past years that follow; may be empty.</param>
    public abstract string OutlookFutures(int members, FutureSource source, LocalDate lastForecastDay, IReadOnlyList<int> years);

    /// <summary>That the outlook ends with the forecast, and what makes it longer.</summary>
    public abstract string OutlookIsShort { get; }

    /// <summary>What a reader should know about the futures, as a sentence.</summary>
    public abstract string OutlookNote(FutureNote note);

    /// <summary>Why there is no outlook, as a sentence; what to do about it.</summary>
    public abstract string OutlookMissing(OutlookProblem problem);

    /// <summary>That likelihoods are no promises and say nothing of eating.</summary>
    public abstract string OutlookIsLikelihood { get; }

    public abstract string OutlookChances { get; }

    public abstract string OutlookDates { get; }

    public abstract string OutlookWhat { get; }

    /// <summary>Head of a column: a span of days from today on.</summary>
    public abstract string OutlookWithin(int days);

    /// <summary>A last day, such as "to 20 Oct".</summary>
    public abstract string OutlookTo(LocalDate last);

    /// <summary>So many of all futures, such as "9 of 64".</summary>
    public abstract string OutlookOf(int count, int members);

    /// <summary>Head of a column: so many of ten futures; 1, 5 or 9.</summary>
    public abstract string OutlookTenths(int tenths);

    public abstract string NameOf(OutlookEvent what);

    /// <summary>A day, or that it lies beyond the last one.</summary>
    public abstract string OutlookDay(LocalDate? day, LocalDate last);

    /// <summary>When something happens, in a few words: the days of one and of nine futures in ten, and the chance by the last day.</summary>
    public string OutlookWindow(EventOutlook when, LocalDate last) =>
        OutlookWindow(when.DateOf(0.1), when.DateOf(0.9), Chance(when.Count, when.Members), last);

    /// <inheritdoc cref="OutlookWindow(EventOutlook, LocalDate)"/>
    protected abstract string OutlookWindow(LocalDate? from, LocalDate? until, string chance, LocalDate last);

    public abstract string OutlookWhatIf { get; }

    /// <summary>What is compared, and until when.</summary>
    public abstract string OutlookCompared(int days, LocalDate by, WhatCounts counts);

    public abstract string OutlookCourse { get; }

    public abstract string OutlookBadDays { get; }

    public abstract string OutlookLeftAlone { get; }

    public abstract string OutlookWatered(double litres);

    /// <summary>The course of filling the bed up whenever it falls below its mark.</summary>
    public abstract string OutlookKeptMoist { get; }

    /// <summary>The cover taken off, or one put on.</summary>
    public abstract string OutlookCovered(Cover then);

    public abstract string NameOf(CourseVerdict verdict);

    public abstract string OutlookWater { get; }

    public abstract string OutlookWaterSaid { get; }

    public abstract string OutlookWeek { get; }

    public abstract string OutlookVolume { get; }

    public abstract string OutlookWanted { get; }

    public abstract string OutlookLaterWeeks(int weeks);

    public abstract string OutlookChanceChart { get; }

    /// <summary>What the chart of chances shows, in numbers.</summary>
    public abstract string OutlookChanceSaid(LocalDate soon, string pinsSoon, string harvestSoon, string drySoon, LocalDate last, string pins, string harvest, string dry);

    public abstract string OutlookMoistureChart { get; }

    public abstract string OutlookMoistureSaid(LocalDate on, double low, double middle, double high, double mark, double least, LocalDate leastOn);

    public abstract string OutlookTemperatureChart { get; }

    public abstract string OutlookTemperatureSaid(LocalDate on, double low, double middle, double high, double coldest, double warmest);

    public abstract string OutlookMiddle { get; }

    public abstract string OutlookRange { get; }

    public abstract string OutlookLow { get; }

    public abstract string OutlookHigh { get; }

    /// <summary>Beside the place in a chart where past years take over from the forecast.</summary>
    public abstract string OutlookPastYears { get; }

    /// <summary>A day in as few letters as can be, such as "20 Oct".</summary>
    public string BriefDate(LocalDate date) => date.ToString("d MMM", Culture);

    /// <summary>A chance of k futures out of n in whole per cent, never none and never all.</summary>
    public string Chance(int k, int n)
    {
        var percent = Math.Round(100 * Model.Futures.Chance.Of(k, n), MidpointRounding.AwayFromZero);
        return percent < 1 ? "<1\u00a0%" : percent > 99 ? ">99\u00a0%" : $"{Number(percent)}\u00a0%";
    }

    /// <summary>Water in a table, litres or gallons: with one decimal where there is little. [L]</summary>
    public string TableVolume(double litres)
    {
        var said = Us ? litres / Gallon : litres;
        return said < 0.05 ? "–" : Number(said, said < 10 ? 1 : 0);
    }

    /// <summary>Years in as few letters as can be: 2012–2014, or one by one where some are missing between them.</summary>
    protected string Years(IReadOnlyList<int> years) => years.Count > 2 && years[^1] - years[0] == years.Count - 1
        ? FormattableString.Invariant($"{years[0]}–{years[^1]}")
        : List([.. years.Select(year => year.ToString(System.Globalization.CultureInfo.InvariantCulture))]);
}
