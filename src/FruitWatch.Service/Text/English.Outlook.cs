using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Outlooks;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string OutlookTitle => "Outlook";

    public override string OutlookFutures(int members, FutureSource source, LocalDate lastForecastDay, IReadOnlyList<int> years)
    {
        var past = years.Count == 0 ? "" : $"the weather of {Number(years.Count)} past years ({Years(years)})";
        var ahead = source switch
        {
            FutureSource.Ensemble => $"the members of the forecast's own ensemble, to {ShortDate(lastForecastDay)}",
            FutureSource.Dressed => $"the forecast to {ShortDate(lastForecastDay)} with the errors that such forecasts have",
            _ => "",
        };
        return (ahead, past) switch
        {
            ("", _) => $"{Number(members)} futures, without a forecast: {past} from today on.",
            (_, "") => $"{Number(members)} futures: {ahead}.",
            _ => $"{Number(members)} futures: {ahead}, then {past}.",
        };
    }

    public override string OutlookIsShort =>
        "The outlook ends with the forecast. To look a season ahead it needs the daily weather of at least two past years: hand in a file of them as the site's history feed.";

    public override string OutlookNote(FutureNote note)
    {
        var n = note.Numbers;
        return note.Code switch
        {
            FutureNoteCode.MembersUnequal => $"The ensemble's members end on different days, after {Number(n[0])} to {Days(n[1])}. The shorter ones go on with past years sooner.",
            FutureNoteCode.MemberDaysMissing => $"{Days(n[1])} missing in {Number(n[0])} of the ensemble's members had to be filled in.",
            FutureNoteCode.MembersLeftOut => $"Left out for holes that could not be filled: {Number(n[0])} of the ensemble's {Number(n[1])} members.",
            FutureNoteCode.TooFewMembers => $"Only {Number(n[0])} of the ensemble's {Number(n[1])} members could be used. Their mean stands for a single forecast.",
            FutureNoteCode.ForecastDaysMissing => $"{Days(n[0])} missing in the forecast had to be filled in.",
            FutureNoteCode.ForecastCutShort => $"The forecast is used only up to a hole from {Date(note.Day!.Value)} on, which could not be filled.",
            FutureNoteCode.NoForecast => "There is no forecast that reaches today. The first days are as uncertain as the later ones.",
            FutureNoteCode.HistoryTooShort => n[0] == 0
                ? "No past year of this site's weather is known for the months ahead."
                : "Only one past year of this site's weather is known for the months ahead; one says too little.",
            FutureNoteCode.HistoryHoles => $"Not used for their holes, more than a tenth of the days: {Years(n)}.",
            FutureNoteCode.FewYears => $"{Number(n[0])} past years are few: each is used several times, up to a week earlier and later. The spread of the later months is rough.",
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Code, null),
        };
    }

    public override string OutlookMissing(OutlookProblem problem) => problem switch
    {
        OutlookProblem.NoWeather => "No outlook: nothing is known of this site's weather up to yesterday. Fetch its past weather.",
        OutlookProblem.WeatherStartsLater => "No outlook: the known weather begins after the bed was made. Fetch the site's past weather.",
        OutlookProblem.NotYetMade => "The bed is still to be made. Its outlook begins on that day.",
        _ => "No outlook: there is no forecast that reaches today, and fewer than two past years of this site's weather are known.",
    };

    public override string OutlookIsLikelihood => "These are likelihoods, not promises. They say nothing of what is safe to eat.";

    public override string OutlookChances => "How likely, left alone";

    public override string OutlookDates => "By which day, left alone";

    public override string OutlookWhat => "What";

    public override string OutlookWithin(int days) => Days(days);

    public override string OutlookTo(LocalDate last) => $"to {BriefDate(last)}";

    public override string OutlookOf(int count, int members) => $"{Number(count)} of {Number(members)}";

    public override string OutlookTenths(int tenths) => tenths == 5 ? "in half of the futures" : $"in {Number(tenths)} of 10 futures";

    public override string NameOf(OutlookEvent what) => what switch
    {
        OutlookEvent.Pins => "Pins",
        OutlookEvent.Harvest => "Harvest",
        OutlookEvent.Dry => "Needs water",
        OutlookEvent.Wet => "Too wet",
        OutlookEvent.Frost => "Frost that sets off pins",
        _ => throw new ArgumentOutOfRangeException(nameof(what), what, null),
    };

    public override string OutlookDay(LocalDate? day, LocalDate last) => day is { } known ? BriefDate(known) : $"after {BriefDate(last)}";

    protected override string OutlookWindow(LocalDate? from, LocalDate? until, string chance, LocalDate last) => (from, until) switch
    {
        (null, _) => $"unlikely: {chance} by {ShortDate(last)}",
        ({ } first, null) => $"from {ShortDate(first)} on; {chance} by {ShortDate(last)}",
        ({ } first, { } end) => first == end
            ? $"{ShortDate(first)}; {chance} by {ShortDate(last)}"
            : $"{ShortDate(first)} to {ShortDate(end)}; {chance} by {ShortDate(last)}",
    };

    public override string OutlookWhatIf => "What you could do today";

    public override string OutlookCompared(int days, LocalDate by, WhatCounts counts) =>
        $"In the same futures, over {Days(days)} to {Date(by)}. "
        + counts switch
        {
            WhatCounts.Pins => "In this phase the better course is the one with the higher chance of pins.",
            WhatCounts.Harvest => "In this phase the better course is the one with the higher chance of a harvest.",
            _ => "In this phase the better course is the one with fewer days that the bed is too dry or too wet.",
        };

    public override string OutlookCourse => "Course";

    public override string OutlookBadDays => "Days too dry or wet";

    public override string OutlookLeftAlone => "Left alone";

    public override string OutlookWatered(double litres) => $"Watered, {Volume(litres)}";

    public override string OutlookKeptMoist => "Watered whenever it falls below its mark";

    public override string OutlookCovered(Cover then) => then == Cover.None ? "Cover taken off" : "Cover put on";

    public override string NameOf(CourseVerdict verdict) => verdict switch
    {
        CourseVerdict.Better => "better",
        CourseVerdict.Worse => "worse",
        _ => "no real difference",
    };

    public override string OutlookWater => "Water by week";

    public override string OutlookWaterSaid => "What keeps the bed above its mark, if it is filled up each time that it falls below: the mean of all futures, and how many of them want any.";

    public override string OutlookWeek => "Week";

    public override string OutlookVolume => Units == Units.Metric ? "Litres" : "Gallons";

    public override string OutlookWanted => "Futures that want any";

    public override string OutlookLaterWeeks(int weeks) => weeks == 1 ? "One later week" : $"{Number(weeks)} later weeks";

    public override string OutlookChanceChart => "Chance by day";

    public override string OutlookChanceSaid(LocalDate soon, string pinsSoon, string harvestSoon, string drySoon, LocalDate last, string pins, string harvest, string dry) =>
        $"By {Date(soon)}: pins {pinsSoon}, harvest {harvestSoon}, needing water {drySoon}."
        + (soon == last ? "" : $" By the end, {Date(last)}: pins {pins}, harvest {harvest}, needing water {dry}.");

    public override string OutlookMoistureChart => "Moisture to come";

    public override string OutlookMoistureSaid(LocalDate on, double low, double middle, double high, double mark, double least, LocalDate leastOn) =>
        $"On {Date(on)}, left alone, the bed is at {Percent(middle)} of what it can hold, in 8 of 10 futures between {Percent(low)} and {Percent(high)}; its mark for watering is {Percent(mark)}. The middle is lowest on {ShortDate(leastOn)}: {Percent(least)}.";

    public override string OutlookTemperatureChart => "Temperature of the bed to come";

    public override string OutlookTemperatureSaid(LocalDate on, double low, double middle, double high, double coldest, double warmest) =>
        $"On {Date(on)}: {Temperature(middle)} in the bed, in 8 of 10 futures between {Temperature(low)} and {Temperature(high)}. Over the whole outlook the middle goes from {Temperature(coldest)} to {Temperature(warmest)}.";

    public override string OutlookMiddle => "Half of the futures below, half above";

    public override string OutlookRange => "8 of 10 futures";

    public override string OutlookLow => "1 of 10 below";

    public override string OutlookHigh => "1 of 10 above";

    public override string OutlookPastYears => "past years";
}
