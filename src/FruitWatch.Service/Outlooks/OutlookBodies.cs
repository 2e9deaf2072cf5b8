using System.ComponentModel;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Outlooks;

/// <summary>The outlook of a bed as the API gives it.</summary>
[Description("What many weather futures bring to a bed. Likelihoods, not promises; they say nothing of what is safe to eat.")]
internal sealed record BedOutlookBody(
    [property: Description("Key of the bed.")] long BedId,
    [property: Description("The site's local day: the first of the outlook.")] LocalDate Today,
    [property: Description("The site's time zone: days are its local days.")] string ZoneId,
    [property: Description("When the forecast was issued; null where there is none.")] Instant? ForecastIssuedAt,
    [property: Description("Whether the forecast is too old to rely on.")] bool ForecastStale,
    [property: Description("Why there is no outlook; none where there is one.")] OutlookProblem Problem,
    [property: Description("The same for people, in English; null where there is an outlook.")] string? ProblemText,
    [property: Description("The outlook; null where there is none.")] OutlookBody? Outlook)
{
    public static BedOutlookBody Of(SiteBook site, BedBook bed)
    {
        var report = OutlookReport.Of(site, bed);
        var problem = report is null ? OutlookReport.ProblemOf(site, bed) : OutlookProblem.None;
        return new BedOutlookBody(
            bed.Row.Id,
            site.Today,
            site.Row.ZoneId,
            site.Forecast?.IssuedAt,
            site.Forecast?.IsStale ?? false,
            problem,
            report is null ? Words.For("en").OutlookMissing(problem) : null,
            report is null ? null : OutlookBody.Of(report));
    }
}

/// <summary>What the futures bring.</summary>
[Description("Counts over the futures of the site's weather, each as likely as every other. Whoever shows pins or harvest has to show the lookalikes of the species with them.")]
internal sealed record OutlookBody(
    [property: Description("The last day.")] LocalDate LastDay,
    [property: Description("Days, today included: the length of every array by day.")] int Days,
    [property: Description("Number of futures.")] int Members,
    [property: Description("What the first days come from: the feed's ensemble, its single forecast dressed with the errors such forecasts have, or past years.")] FutureSource Source,
    [property: Description("The last day that rests on a forecast; yesterday where there is none.")] LocalDate LastForecastDay,
    [property: Description("The past years with whose weather the futures go on after the forecast.")] IReadOnlyList<int> PastYears,
    [property: Description("Whether the outlook ends with the forecast, for want of past years.")] bool Short,
    [property: Description("What to know about the futures.")] IReadOnlyList<OutlookNoteBody> Notes,
    [property: Description("The next pins, the bed left alone. A likelihood, not a promise; says nothing of what is safe to eat.")] HappeningBody Pins,
    [property: Description("The next flush of picking size, the bed left alone. A likelihood, not a promise; says nothing of what is safe to eat.")] HappeningBody Harvest,
    [property: Description("The layer below its mark for watering.")] HappeningBody NeedsWater,
    [property: Description("Too little air in the layer.")] HappeningBody TooWet,
    [property: Description("The frost met that sets off pinning; null for a species without one.")] HappeningBody? FrostTrigger,
    [property: Description("Moisture of the layer by day: 0 at the practical lower limit, 1 at container capacity.")] FanBody? Moisture,
    [property: Description("Moisture at which to water, on the same scale.")] double WaterMark,
    [property: Description("Mean temperature of the bed by day, in °C.")] FanBody? BedC,
    [property: Description("Water that keeps the bed above its mark, by week.")] IReadOnlyList<WeekWaterBody> WaterByWeek,
    [property: Description("What could be done today, and what would come of it.")] WhatIfBody WhatIf,
    [property: Description("What the bed's log taught of how it dries and grows; the futures go by it.")] LearnedBody? Learned)
{
    public static OutlookBody Of(OutlookReport report)
    {
        var (outlook, futures) = (report.Outlook, report.Futures);
        return new OutlookBody(
            outlook.LastDay,
            outlook.Days,
            outlook.Members,
            futures.Source,
            futures.LastForecastDay,
            futures.Years,
            futures.IsShort,
            [.. futures.Notes.Select(OutlookNoteBody.Of)],
            HappeningBody.Of(outlook.Alone.Pins),
            HappeningBody.Of(outlook.Alone.Harvest),
            HappeningBody.Of(outlook.Alone.Dry),
            HappeningBody.Of(outlook.Alone.Wet),
            outlook.Alone.Frost is { } frost ? HappeningBody.Of(frost) : null,
            outlook.Fans is { } fans ? FanBody.Of(fans.Moisture, 3) : null,
            Math.Round(report.WaterMark, 3),
            outlook.Fans is { } ranges ? FanBody.Of(ranges.BedTemperature, 1) : null,
            [.. outlook.Water.Select(week => new WeekWaterBody(week.From, week.Days, Math.Round(week.MeanMm * report.Bed.Bed.Area, 1), week.Futures))],
            WhatIfBody.Of(report),
            report.Bed.Learned is { } learned ? LearnedBody.Of(learned) : null);
    }
}

/// <summary>What a bed's log taught.</summary>
[Description("How a bed differs from the catalogue, as far as its log tells.")]
internal sealed record LearnedBody(
    [property: Description("How fast it dries, against the catalogue.")] MultiplierBody Evaporation,
    [property: Description("How fast it grows, against the catalogue.")] MultiplierBody Growth,
    [property: Description("Squeeze tests that were used.")] int SqueezeTests,
    [property: Description("Measured moistures that were used.")] int Moistures,
    [property: Description("Looks at the mycelium that were used.")] int MyceliumLooks,
    [property: Description("Days of pins that were used.")] int PinsDates,
    [property: Description("The log does not fit any bed that the model allows.")] bool LogDisagrees)
{
    public static LearnedBody Of(LearnedBed learned) => new(
        MultiplierBody.Of(learned.Evaporation),
        MultiplierBody.Of(learned.Growth),
        learned.From.SqueezeTests,
        learned.From.Moistures,
        learned.From.MyceliumLooks,
        learned.From.PinsDates,
        learned.LogDisagrees);
}

/// <summary>A multiplier and how well it is known.</summary>
[Description("A multiplier of the catalogue's rate.")]
internal sealed record MultiplierBody(
    [property: Description("Below it with a chance of 5 %.")] double Low,
    [property: Description("As likely above as below.")] double Middle,
    [property: Description("Below it with a chance of 95 %.")] double High)
{
    public static MultiplierBody Of(Model.Learning.LearnedMultiplier of) => new(Math.Round(of.P5, 3), Math.Round(of.P50, 3), Math.Round(of.P95, 3));
}

/// <summary>A note beside the futures.</summary>
[Description("What to know about the futures.")]
internal sealed record OutlookNoteBody(
    [property: Description("What it is about; a stable name.")] FutureNoteCode Code,
    [property: Description("The same for people, in English.")] string Text,
    [property: Description("Its numbers: days, members or years, by its code.")] IReadOnlyList<int> Numbers,
    [property: Description("Its day; null where it has none.")] LocalDate? Day)
{
    public static OutlookNoteBody Of(FutureNote note) => new(note.Code, Words.For("en").OutlookNote(note), note.Numbers, note.Day);
}

/// <summary>When something first happens.</summary>
[Description("When something first happens in the futures.")]
internal sealed record HappeningBody(
    [property: Description("Futures in which it has happened by the end of each day, the first being today.")] IReadOnlyList<int> Count,
    [property: Description("The chance of that, never 0 or 1: (count + ½) / (members + 1).")] IReadOnlyList<double> Chance,
    [property: Description("Day by which it has happened in a tenth of the futures; null where the outlook ends before.")] LocalDate? TenthBy,
    [property: Description("Day by which it has happened in half of the futures; null where the outlook ends before.")] LocalDate? HalfBy,
    [property: Description("Day by which it has happened in nine tenths of the futures; null where the outlook ends before.")] LocalDate? NineTenthsBy)
{
    public static HappeningBody Of(EventOutlook when) => new(
        when.By,
        [.. when.By.Select(count => Math.Round(Model.Futures.Chance.Of(count, when.Members), 4))],
        when.DateOf(0.1),
        when.DateOf(0.5),
        when.DateOf(0.9));
}

/// <summary>A range by day.</summary>
[Description("The middle 80 % of the futures at the end of each day, the first being today.")]
internal sealed record FanBody(
    [property: Description("Ten per cent of the futures lie below.")] IReadOnlyList<double> Low,
    [property: Description("Half of the futures lie below.")] IReadOnlyList<double> Middle,
    [property: Description("Ten per cent of the futures lie above.")] IReadOnlyList<double> High)
{
    public static FanBody Of(Fan fan, int decimals)
    {
        return new FanBody(Rounded(fan.Low), Rounded(fan.Middle), Rounded(fan.High));

        IReadOnlyList<double> Rounded(IReadOnlyList<double> values) => [.. values.Select(value => Math.Round(value, decimals))];
    }
}

/// <summary>Water for a week.</summary>
[Description("Water that a bed wants in a week, if it is filled up whenever it falls below its mark.")]
internal sealed record WeekWaterBody(
    [property: Description("First day of the week.")] LocalDate From,
    [property: Description("Days of it; the last week may be shorter than 7.")] int Days,
    [property: Description("Mean over the futures, in litres.")] double MeanLitres,
    [property: Description("Futures that want any.")] int Count);

/// <summary>Courses of action compared.</summary>
[Description("What could be done today, in the same futures.")]
internal sealed record WhatIfBody(
    [property: Description("By what the courses are compared in the bed's phase: the chance of pins, that of a harvest, or the days that it is too dry or too wet.")] WhatCounts Counts,
    [property: Description("Last day of the comparison.")] LocalDate By,
    [property: Description("Nothing is done that the log does not have.")] CourseBody LeftAlone,
    [property: Description("Water is given today; null where that was not looked at.")] CourseBody? Watered,
    [property: Description("Water given by that, in litres.")] double Litres,
    [property: Description("The cover is changed today; null where that was not looked at.")] CourseBody? CoverChanged,
    [property: Description("What lies over the bed after that.")] Cover CoverThen,
    [property: Description("The bed is filled up on every morning after it fell below its mark, from tomorrow on; null where that was not looked at.")] CourseBody? KeptMoist)
{
    public static WhatIfBody Of(OutlookReport report) => new(
        report.Counts,
        report.ComparedBy,
        CourseBody.Of(report.Alone, report.ComparedBy),
        report.Watered is { } watered ? CourseBody.Of(watered, report.ComparedBy) : null,
        Math.Round(report.Litres, 1),
        report.CoverChanged is { } changed ? CourseBody.Of(changed, report.ComparedBy) : null,
        report.CoverThen,
        report.KeptMoist is { } kept ? CourseBody.Of(kept, report.ComparedBy) : null);
}

/// <summary>A course of action.</summary>
[Description("What comes of a course of action by the last day of the comparison. Likelihoods; they say nothing of what is safe to eat.")]
internal sealed record CourseBody(
    [property: Description("Futures with pins.")] int PinsCount,
    [property: Description("Chance of pins.")] double PinsChance,
    [property: Description("Futures with a harvest.")] int HarvestCount,
    [property: Description("Chance of a harvest.")] double HarvestChance,
    [property: Description("Mean number of days too dry.")] double DryDays,
    [property: Description("Mean number of days too wet.")] double WetDays,
    [property: Description("Whether it is better or worse than leaving the bed alone, or even with it; null for that itself.")] CourseVerdict? Verdict)
{
    public static CourseBody Of(OutlookCourse course, LocalDate by) => new(
        course.Outcome.Pins.CountBy(by),
        Math.Round(course.Outcome.Pins.ChanceBy(by), 4),
        course.Outcome.Harvest.CountBy(by),
        Math.Round(course.Outcome.Harvest.ChanceBy(by), 4),
        Math.Round(course.Outcome.DryDays, 2),
        Math.Round(course.Outcome.WetDays, 2),
        course.Verdict);
}
