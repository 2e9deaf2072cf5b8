using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string SilenceSubject(string feed) => $"No weather from {feed}";

    public override string SilenceGreeting(string name) => $"Hello, {name}.";

    public override string SilenceSummary(string feed, int sites, LocalDateTime since) =>
        $"The weather feed {feed} has given nothing that could be used since {Date(since.Date)}, {Clock(since)}, for {(sites == 1 ? "one site" : $"{Number(sites)} sites")}.";

    public override string SilenceSince(LocalDateTime lastGood) => $"Last good answer: {Date(lastGood.Date)}, {Clock(lastGood)}.";

    public override string SilenceNever(LocalDateTime firstTried) => $"No good answer yet; asked since {Date(firstTried.Date)}, {Clock(firstTried)}.";

    public override string SilenceReason(string problem) => problem.Length > 0 ? $"Why: {problem}" : "Why is not known.";

    public override string SilenceMeaning(FeedSlot slot, LocalDateTime? forecastOf) => (slot, forecastOf) switch
    {
        (FeedSlot.Forecast, { } of) => $"For the beds: advice still goes by the last forecast, of {Date(of.Date)}, {Clock(of)}, and gets less sure every day. Look at the sky as well.",
        (FeedSlot.Forecast, null) => "For the beds: there is no forecast, so nothing can be said of the days to come.",
        (_, not null) => "For the beds: the days gone by are taken from earlier forecasts until it answers again. Rain is the first thing to go wrong: readings of an own gauge help most.",
        _ => "For the beds: the days gone by are filled in with what is usual until it answers again. Readings of an own gauge help most.",
    };

    public override string SilenceToDo(FeedStanding state) => state switch
    {
        FeedStanding.Asked => "Say whether the feed's units are right, or correct its description. The answer is held until then.",
        FeedStanding.Waiting => "Change what the reason names: the key, the address, the station or the description. It will not mend itself; it is tried once a day.",
        _ => "Nothing for now: it is asked again by itself. If it lasts, write to the provider or choose another feed.",
    };

    public override string SilenceMoreSites(int more) => $"And {Number(more)} more sites.";

    public override string SilenceWhyYou(string cooperative) => $"You get this because you look after the weather feeds of {cooperative}, or nobody else does.";

    public override string SilenceOnce => "It is told once. The first page shows when the feed answers again.";

    protected override string SilenceHeld(string feed) => $"{feed}: its answer is held until somebody says whether its units are right.";

    protected override string SilenceOnPage(string feed, string since, bool everGood) =>
        everGood ? $"{feed}: nothing that could be used since {since}." : $"{feed}: no good answer yet, asked since {since}.";

    protected override string SilenceWaiting(string feed) => $"{feed}: waits until somebody changes something.";

    public override string SilenceOpenFeeds => "Open the weather feeds";
}
