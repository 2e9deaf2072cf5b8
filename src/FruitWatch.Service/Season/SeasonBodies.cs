using System.ComponentModel;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Season;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Text;
using NodaTime;
using NodaTime.Text;

namespace FruitWatch.Service.Season;

/// <summary>A plan as the API gives it.</summary>
[Description("When to start beds at a site: every week of the year and every past year that reaches 500 days on, a bed made, watered as a "
    + "careful grower would, and followed through that year's weather. It speaks of likely days of picking and says nothing of what is safe to eat: "
    + "whoever shows it has to show the lookalikes of the species with it.")]
internal sealed record SeasonBody(
    [property: Description("Key of the site.")] long SiteId,
    [property: Description("The site's time zone.")] string ZoneId,
    [property: Description("The site's local day; coming starts are counted from it.")] LocalDate Today,
    [property: Description("First day of the measured weather used; null where there is none.")] LocalDate? FirstDay,
    [property: Description("Last day of it. No forecast is used.")] LocalDate? LastDay,
    [property: Description("The bed that was planned for.")] PatternBody Pattern,
    [property: Description("What a reader should know about it, such as what is missing.")] IReadOnlyList<SeasonNoteBody> Notes,
    [property: Description("Past beds that holes in the weather forbid.")] IReadOnlyList<LeftOutBody> LeftOut,
    [property: Description("Each species asked for.")] IReadOnlyList<SpeciesSeasonBody> Species)
{
    public static SeasonBody Of(SiteBook site, SeasonPlan plan, Words words) => new(
        site.Row.Id,
        site.Row.ZoneId,
        site.Today,
        plan.First,
        plan.Last,
        PatternBody.Of(plan.Pattern),
        [.. plan.Notes.Select(note => new SeasonNoteBody(note.Code, note.Numbers, note.Day, words.SeasonNote(note)))],
        [.. plan.LeftOut.Select(run => new LeftOutBody(run.Start, run.FilledDays))],
        [.. plan.Species.Select(season => SpeciesSeasonBody.Of(season, site.Today))]);
}

/// <summary>The bed of a plan as the API gives it.</summary>
[Description("The bed that a season is planned for.")]
internal sealed record PatternBody(
    [property: Description("What it is filled with; null for the usual material of each species.")] string? MaterialKey,
    [property: Description("Settled depth when laid, in m.")] double DepthM,
    [property: Description("Share of the sun kept off, 0 to 1.")] double Shade,
    [property: Description("Depth of the mulch, in cm.")] double MulchCm,
    [property: Description("What the mulch is; null where there is none.")] string? MulchMaterialKey,
    [property: Description("What lies over it all the time.")] Cover Cover)
{
    public static PatternBody Of(BedPattern pattern) =>
        new(pattern.Material, pattern.Depth, pattern.Shade, pattern.MulchCm, pattern.Mulch, pattern.Cover);
}

/// <summary>A note beside a plan.</summary>
[Description("A note beside a plan.")]
internal sealed record SeasonNoteBody(
    [property: Description("Stable name.")] PlannerNoteCode Code,
    [property: Description("Its numbers, in the order in which the sentence has them.")] IReadOnlyList<int> Numbers,
    [property: Description("The day that it is about; null where it is about none.")] LocalDate? Day,
    [property: Description("The same in English.")] string Text);

/// <summary>A past bed that could not be followed.</summary>
[Description("A past bed that could not be followed: more than a tenth of its days were unknown.")]
internal sealed record LeftOutBody(
    [property: Description("Day on which it would have been made.")] LocalDate Start,
    [property: Description("Days that were unknown and filled.")] int FilledDays);

/// <summary>A species' year as the API gives it.</summary>
[Description("A species' year at the site.")]
internal sealed record SpeciesSeasonBody(
    [property: Description("Key of the species.")] string SpeciesKey,
    [property: Description("What its bed was filled with.")] string MaterialKey,
    [property: Description("How often there was a pick within 12 months of the best of its weeks; a slow species may have none and suit the site.")] SiteFit Fit,
    [property: Description("Numbers of its best weeks, the best first; at most five, none that never brought a pick.")] IReadOnlyList<int> BestWeeks,
    [property: Description("All 52 weeks in the order of the year.")] IReadOnlyList<WeekBody> Weeks,
    [property: Description("How often pins formed in each month, January first, over all weeks, years and days.")] IReadOnlyList<int> PinsByMonth)
{
    public static SpeciesSeasonBody Of(SpeciesSeason season, LocalDate today) => new(
        season.Species.Key,
        season.Material.Key,
        season.Fit,
        [.. season.BestWeeks.Select(week => week.Number)],
        [.. season.Weeks.Select(week => WeekBody.Of(ComingWeek.Of(week, today)))],
        season.PinsByMonth);
}

/// <summary>A week of a plan as the API gives it.</summary>
[Description("What became of beds made in a week of the year. Days are counted from making the bed; dates are those of the coming start.")]
internal sealed record WeekBody(
    [property: Description("1 to 52; week 1 starts on 1 January.")] int Week,
    [property: Description("Month and day of the coming start, such as 04-09.")] string Start,
    [property: Description("The coming start.")] LocalDate ComingStart,
    [property: Description("Past years that count: n.")] int Years,
    [property: Description("Years with a pick within 12 months: k of n.")] int Picked,
    [property: Description("Chance of a pick within 12 months, (k + ½)/(n + 1), never 0 or 1; null where no year counts.")] double? Chance,
    [property: Description("Days to the first pick.")] DaysBody DaysToFirstPick,
    [property: Description("Days of the first pick from the coming start.")] DatesBody FirstPick,
    [property: Description("Waterings within 12 months, the median; null where no year counts.")] int? Waterings,
    [property: Description("Water to give within 12 months, the median, in litres per m²; null where no year counts.")] double? LitresPerM2,
    [property: Description("Years without a pick within 12 months, by what stopped it.")] IReadOnlyList<FailureBody> Failures)
{
    private static readonly LocalDatePattern s_monthDay = LocalDatePattern.CreateWithInvariantCulture("MM-dd");

    public static WeekBody Of(ComingWeek coming)
    {
        var week = coming.Week;
        var dates = week.FirstPickFrom(coming.Start.Year);
        return new WeekBody(
            week.Number,
            s_monthDay.Format(coming.Start),
            coming.Start,
            week.Years,
            week.Picked,
            week.Chance is { } chance ? Math.Round(chance, 4) : null,
            new DaysBody((int?)week.FirstPickDays.P10, (int?)week.FirstPickDays.P50, (int?)week.FirstPickDays.P90),
            new DatesBody(dates.P10, dates.P50, dates.P90),
            (int?)week.Waterings.P50,
            week.Litres.P50 is { } litres ? Math.Round(litres, 1) : null,
            [.. week.Failures.Select(failure => new FailureBody(failure.Key, failure.Value))]);
    }
}

/// <summary>Days to something, over the years.</summary>
[Description("10th, 50th and 90th percentile over the years, nearest rank. A year in which it did not happen within 500 days counts as later than "
    + "all others; null says that the percentile falls into such a year.")]
internal sealed record DaysBody(
    [property: Description("One year in ten is at or below.")] int? P10,
    [property: Description("Half of the years are.")] int? P50,
    [property: Description("Nine years in ten are.")] int? P90);

/// <summary>Dates of something, over the years.</summary>
[Description("The same percentiles as dates.")]
internal sealed record DatesBody(
    [property: Description("One year in ten is on this day or before.")] LocalDate? P10,
    [property: Description("Half of the years are.")] LocalDate? P50,
    [property: Description("Nine years in ten are.")] LocalDate? P90);

/// <summary>Years that failed for a reason.</summary>
[Description("Years without a pick within 12 months for one reason.")]
internal sealed record FailureBody(
    [property: Description("What stopped the bed.")] NoPickReason Reason,
    [property: Description("So many years.")] int Years);
