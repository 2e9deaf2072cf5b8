using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Beds;
using NodaTime;

namespace FruitWatch.Service.Outlooks;

/// <summary>The outlook of a bed with what has to be told with it: where its futures come from, and what could be done today.</summary>
internal sealed class OutlookReport
{
    /// <summary>Spans of which the chance is told, beside that of the whole outlook. Chosen. [d]</summary>
    private static readonly int[] s_spans = [7, 14, 30];

    private OutlookReport(SiteBook site, BedBook bed, BedOutlook outlook, WeatherFutures futures)
    {
        Site = site;
        Bed = bed;
        Outlook = outlook;
        Futures = futures;
        var morning = new BedMorning(bed.Account!, site.Today, site.Weather, bed.Log);
        Counts = WhatIf.CountsIn(morning.Phase);
        Alone = new OutlookCourse(CourseKind.LeftAlone, outlook.Alone, null);
        Watered = Course(CourseKind.Watered, outlook.Watered);
        CoverChanged = Course(CourseKind.CoverChanged, outlook.CoverChanged);
        KeptMoist = Course(CourseKind.KeptMoist, outlook.KeptMoist);

        OutlookCourse? Course(CourseKind kind, ActionOutlook? acted) =>
            acted is null ? null : new OutlookCourse(kind, acted, WhatIf.Of(Counts, outlook, acted));
    }

    /// <summary>The bed's outlook in all futures of its site; null where there is none.</summary>
    public static OutlookReport? Of(SiteBook site, BedBook bed) =>
        BedOutlooks.Of(site, bed) is { } outlook && site.Futures is { } futures ? new OutlookReport(site, bed, outlook, futures) : null;

    /// <summary>Why a bed has no outlook.</summary>
    public static OutlookProblem ProblemOf(SiteBook site, BedBook bed) => bed.Problem switch
    {
        AccountProblem.NoWeather => OutlookProblem.NoWeather,
        AccountProblem.WeatherStartsLater => OutlookProblem.WeatherStartsLater,
        AccountProblem.NotYetMade => OutlookProblem.NotYetMade,
        _ when bed.Bed.Inoculated > site.Today => OutlookProblem.NotYetMade,
        _ when bed.Standing is null || !(site.LastDay >= site.Today.PlusDays(-1)) => OutlookProblem.NoWeather,
        _ => site.Futures is null ? OutlookProblem.NoForecast : OutlookProblem.None,
    };

    public SiteBook Site { get; }

    public BedBook Bed { get; }

    public BedOutlook Outlook { get; }

    public WeatherFutures Futures { get; }

    /// <summary>By what courses of action are compared in the bed's phase.</summary>
    public WhatCounts Counts { get; }

    /// <summary>Nothing is done that the log does not have.</summary>
    public OutlookCourse Alone { get; }

    /// <summary>Water is given today; null where that was not looked at.</summary>
    public OutlookCourse? Watered { get; }

    /// <summary>The cover is taken off today, or put on; null where that was not looked at.</summary>
    public OutlookCourse? CoverChanged { get; }

    /// <summary>The bed is filled up on every morning after it fell below its mark; null where that was not looked at.</summary>
    public OutlookCourse? KeptMoist { get; }

    /// <summary>The courses of action that were looked at, that of leaving the bed alone first.</summary>
    public IEnumerable<OutlookCourse> Courses => new[] { Alone, Watered, CoverChanged, KeptMoist }.OfType<OutlookCourse>();

    /// <summary>What <see cref="CoverChanged"/> lays over the bed.</summary>
    public Cover CoverThen => Outlook.CoverThen ?? Cover.None;

    /// <summary>Water that <see cref="Watered"/> gives. [L]</summary>
    public double Litres => Outlook.WaterMm * Bed.Bed.Area;

    /// <summary>Last day by which courses of action are compared.</summary>
    public LocalDate ComparedBy => Outlook.Today.PlusDays(Math.Min(WhatIf.Days, Outlook.Days) - 1);

    /// <summary>Mark for watering, on the scale of the moisture.</summary>
    public double WaterMark => (Bed.Account!.On(Site.Today) ?? Bed.Account.Days[^1]).WaterMark;

    /// <summary>Days by which chances are told: a week, two, a month, and the last day.</summary>
    public IReadOnlyList<OutlookSpan> Spans =>
    [
        .. s_spans.Where(days => days < Outlook.Days).Select(days => new OutlookSpan(days, Outlook.Today.PlusDays(days - 1))),
        new OutlookSpan(Outlook.Days, Outlook.LastDay),
    ];

    /// <summary>What may happen to the bed left alone.</summary>
    public IEnumerable<(OutlookEvent What, EventOutlook When)> Events
    {
        get
        {
            yield return (OutlookEvent.Pins, Outlook.Alone.Pins);
            yield return (OutlookEvent.Harvest, Outlook.Alone.Harvest);
            yield return (OutlookEvent.Dry, Outlook.Alone.Dry);
            yield return (OutlookEvent.Wet, Outlook.Alone.Wet);
            if (Outlook.Alone.Frost is { } frost)
                yield return (OutlookEvent.Frost, frost);
        }
    }
}

/// <summary>A span from today on of which a chance is told.</summary>
/// <param name="Days">Its length, today included.</param>
/// <param name="By">Its last day.</param>
internal sealed record OutlookSpan(int Days, LocalDate By);

/// <summary>What may happen to a bed.</summary>
internal enum OutlookEvent
{
    Pins,
    Harvest,
    Dry,
    Wet,
    Frost,
}

/// <summary>What could be done today.</summary>
internal enum CourseKind
{
    LeftAlone,
    Watered,
    CoverChanged,
    KeptMoist,
}

/// <summary>A course of action and what comes of it.</summary>
/// <param name="Kind">What is done.</param>
/// <param name="Outcome">What the futures bring.</param>
/// <param name="Compared">With leaving the bed alone; null for that itself.</param>
internal sealed record OutlookCourse(CourseKind Kind, ActionOutlook Outcome, WhatIf? Compared)
{
    /// <summary>Which is the better course; null for leaving the bed alone.</summary>
    public CourseVerdict? Verdict => Compared switch
    {
        null => null,
        { ActingIsBetter: true } => CourseVerdict.Better,
        { ActingIsWorse: true } => CourseVerdict.Worse,
        _ => CourseVerdict.Even,
    };
}

/// <summary>How a course of action compares with leaving the bed alone.</summary>
internal enum CourseVerdict
{
    Better,
    Even,
    Worse,
}
