using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    /// <inheritdoc/>
    public override string NameOf(Phase phase) => phase switch
    {
        Phase.SpawnRun => "spawn run",
        Phase.Ready => "ready",
        Phase.Pinning => "pinning",
        Phase.Growing => "growing",
        Phase.Picking => "picking",
        Phase.Resting => "resting",
        Phase.Spent => "spent",
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, null),
    };

    /// <inheritdoc/>
    public override string NameOf(LimitingFactor limit, bool tooWet = false) => limit switch
    {
        LimitingFactor.Moisture => tooWet ? "too wet" : "too dry",
        LimitingFactor.Temperature => "outside its temperatures",
        LimitingFactor.Humidity => "air too dry",
        LimitingFactor.Soak => "waiting for a soaking",
        LimitingFactor.Frost => "waiting for frost",
        LimitingFactor.Cooling => "waiting for a cold spell",
        _ => throw new ArgumentOutOfRangeException(nameof(limit), limit, null),
    };

    /// <inheritdoc/>
    public override string NameOf(NoticeKind kind) => kind switch
    {
        NoticeKind.Water => "Water",
        NoticeKind.HoldWater => "Hold water",
        NoticeKind.CoverOn => "Cover on",
        NoticeKind.CoverOff => "Cover off",
        NoticeKind.FrostAhead => "Frost ahead",
        NoticeKind.HeatAhead => "Heat ahead",
        NoticeKind.ExpectPins => "Expect pins",
        NoticeKind.ExpectHarvest => "Expect harvest",
        NoticeKind.WeeklyCheck => "Check the bed",
        NoticeKind.YearlyFeeding => "Feed the bed",
        NoticeKind.Spent => "Bed spent",
        NoticeKind.StormAhead => "Storm ahead",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, null),
    };

    /// <inheritdoc/>
    public override string Headline(NoticeDraft notice) => notice switch
    {
        { Kind: NoticeKind.Water, Amount: { } litres } => $"Water: {Volume(litres)}",
        { Kind: NoticeKind.HoldWater } => "Hold water: too wet",
        { Reason.Code: ReasonCode.FrostTriggers } => $"Frost on {Date(notice.Day)}: good for this bed",
        { Reason.Code: ReasonCode.FrostThreatens } => $"{(notice.Reason[ReasonNumber.GroundMin] > 0 ? "Cold night" : "Frost")} on {Date(notice.Day)}: protect the flush",
        { Kind: NoticeKind.HeatAhead } => $"Heat on {Date(notice.Day)}: shade the bed",
        { Kind: NoticeKind.StormAhead } => $"Storm on {Date(notice.Day)}: hold the cover down",
        { Kind: NoticeKind.ExpectPins } => $"Expect pins {Window(notice)}",
        { Reason.Code: ReasonCode.FlushReady } => "Look for a flush of picking size",
        { Kind: NoticeKind.ExpectHarvest } => $"Expect a harvest {Window(notice)}",
        { Kind: NoticeKind.YearlyFeeding } => "Feed the bed: fresh material",
        _ => NameOf(notice.Kind),
    };

    private string Window(NoticeDraft notice) =>
        notice.From == notice.Until ? ShortDate(notice.Day) : $"{ShortDate(notice.From)} to {ShortDate(notice.Until)}";

    /// <inheritdoc/>
    public override string ReasonFor(NoticeDraft notice)
    {
        var why = notice.Reason;
        var days = why[ReasonNumber.Days];
        var rain = Rain(why);
        return Sentence() + Compared(notice);

        string Sentence() => why.Code switch
        {
            ReasonCode.WaterLow =>
                $"Without water the bed falls to {Percent(why[ReasonNumber.Moisture])} of its usable water; its mark for watering is "
                + $"{Percent(why[ReasonNumber.WaterMark])}, and {rain}{(IsDry(why) ? "" : ", which is not enough")}."
                + (why[ReasonNumber.Covered] > 0 ? " Lift the cover to water, then put it back." : "")
                + (why[ReasonNumber.Goes] > 1 ? " So dry a bed sheds water: give half, wait an hour, then the other half." : ""),
            ReasonCode.AirLow =>
                $"Air fills only {Percent(why[ReasonNumber.Air])} of the layer, and spawn wants {Percent(why[ReasonNumber.AirMark])} or more; "
                + $"{rain}. Give no water until it has drained.",
            ReasonCode.SoakedAndRain =>
                $"The bed holds {Percent(why[ReasonNumber.Moisture])} of the water that it keeps after draining, and {rain}. Give no water until it has drained.",
            ReasonCode.DryAhead => days > 0
                ? $"The bed would fall below its mark for watering ({Percent(why[ReasonNumber.WaterMark])} of its usable water) on {Date(notice.Day.PlusDays((int)days))}, with "
                  + $"{WaterDepth(why[ReasonNumber.RainToCome])} of rain in the week's forecast. The bed needs no rain yet: a cover keeps its moisture in."
                : $"The bed is at {Percent(why[ReasonNumber.Moisture])} of its usable water, below its mark for watering ({Percent(why[ReasonNumber.WaterMark])}), with "
                  + $"{WaterDepth(why[ReasonNumber.RainToCome])} of rain in the week's forecast. Water first, then cover to keep the moisture in.",
            ReasonCode.RainWouldDrown =>
                $"{WaterDepth(why[ReasonNumber.RainToCome])} of rain in {Days(days)} would leave air in only {Percent(why[ReasonNumber.Air])} of the layer; below "
                + $"{Percent(why[ReasonNumber.AirMark])} the spawn lacks air. A cover keeps the rain off.",
            ReasonCode.ReadyToPin => days > 0
                ? $"The bed should be ready to pin around {Date(notice.Deadline)}. Uncovered, it gets the rain and the fresh air that pins need."
                : "The bed is ready to pin. Uncovered, it gets the rain and the fresh air that pins need.",
            ReasonCode.FruitingUnderCover => "Pins and mushrooms need fresh air: a cover makes them long and thin, and rots them.",
            ReasonCode.RainForDryBed =>
                $"The bed is at {Percent(why[ReasonNumber.Moisture])} of its usable water, its mark for watering is {Percent(why[ReasonNumber.WaterMark])}, and "
                + $"{rain}: let it in.",
            ReasonCode.FrostTriggers =>
                $"{Temperature(why[ReasonNumber.GroundMin])} at the ground is forecast. This species waits for {Nights(why[ReasonNumber.Nights])} "
                + $"at {Temperature(why[ReasonNumber.FrostMark])} or below before it pins."
                + (why[ReasonNumber.Covered] > 0 ? " Take the cover off the evening before, so that the cold reaches the bed." : " Leave it uncovered."),
            ReasonCode.FrostThreatens =>
                $"{Temperature(why[ReasonNumber.GroundMin])} at the bed is forecast; {Temperature(why[ReasonNumber.FrostMark])} kills the flush. "
                + (why[ReasonNumber.Covered] > 0 ? "The cover will not be enough: pick what is of size before." : "Cover the bed for the night, or pick what is of size before."),
            ReasonCode.HeatOnYoungSpawn =>
                $"{Temperature(why[ReasonNumber.Tmax])} is forecast ({Temperature(why[ReasonNumber.HeatMark])} or more counts as heat), and the spawn has been in for "
                + $"{Days(days)}. Cover and shade the bed by that morning at the latest, and keep it moist by the squeeze test.",
            ReasonCode.BedNearHarm =>
                $"The bed itself is to reach {Temperature(why[ReasonNumber.BedTemperature])}; {Temperature(why[ReasonNumber.HarmTemperature])} sets the spawn back. "
                + (why[ReasonNumber.Covered] > 0 ? "Shade the cover, lift its edges for air and keep the bed moist." : "Shade the bed and keep it moist."),
            ReasonCode.PinsAhead =>
                $"By the bed's account and the forecast, pins form around {Date(notice.Day)}{ChanceOf(notice)}. "
                + "Keep the surface moist and look every day from the first date on.",
            ReasonCode.HarvestAhead =>
                $"By the bed's account and the forecast, the first mushrooms are of size around {Date(notice.Day)}{ChanceOf(notice)}.",
            ReasonCode.FlushReady => $"A flush should be of size now. Look every day until {Date(notice.Until)}.",
            ReasonCode.NothingLogged =>
                $"Nothing has been logged for this bed since {Date(notice.Day.PlusDays(-(int)days))}. Squeeze a handful, look for white mycelium, pins, mould and slugs, and log what you find.",
            ReasonCode.YearSinceFilling =>
                $"The last fresh material was laid {Days(days)} ago. Spread a new layer of what the bed is made of, and wet it.",
            ReasonCode.FillingUsedUp =>
                $"The bed has given {Flushes(why[ReasonNumber.Flushes])}, about what its filling can. Top it up with fresh material, or use it as compost.",
            ReasonCode.WindLiftsCover =>
                $"A mean wind of {WindSpeed(why[ReasonNumber.Wind])} near the ground is forecast; from {WindSpeed(why[ReasonNumber.WindMark])} on, the gusts of the day lift covers. "
                + "Weigh the edges down, or take the cover off and stow it. Do not work at it while it blows.",
            _ => throw new ArgumentOutOfRangeException(nameof(notice), why.Code, null),
        };
    }

    /// <inheritdoc/>
    public override string By(LocalDate deadline, LocalDate today) => Period.DaysBetween(today, deadline) switch
    {
        < 0 => $"overdue since {Date(deadline)}",
        0 => "today",
        1 => "by tomorrow evening",
        _ => $"by {Date(deadline)}",
    };

    /// <inheritdoc/>
    public override string When(NoticeDraft notice, LocalDate today) => notice switch
    {
        { Kind: NoticeKind.HoldWater } when notice.Deadline > today => $"until {Date(notice.Deadline)}",
        { Kind: NoticeKind.HoldWater } => "today",
        { Reason.Code: ReasonCode.FlushReady } when notice.Until > today => $"every day until {Date(notice.Until)}",
        { Reason.Code: ReasonCode.FlushReady } => "today",
        { NeedsEatingCaution: true } => notice.From > today ? $"look from {Date(notice.From)} on" : "look every day",
        { Kind: NoticeKind.HeatAhead } when notice.Day < today => $"since {Date(notice.Day)}",
        { Kind: NoticeKind.FrostAhead } when notice.Deadline == today => "this evening",
        _ => By(notice.Deadline, today),
    };

    /// <inheritdoc/>
    public override string NameOf(NoticeConfidence confidence) => confidence switch
    {
        NoticeConfidence.Firm => "firm",
        NoticeConfidence.Likely => "likely",
        NoticeConfidence.Possible => "possible",
        _ => throw new ArgumentOutOfRangeException(nameof(confidence), confidence, null),
    };

    /// <inheritdoc/>
    public override string Closing(NoticeEnd how, ClosingCode why) => $"{how switch
    {
        NoticeEnd.Done => "Done",
        NoticeEnd.Withdrawn => "Withdrawn",
        NoticeEnd.Lapsed => "Over",
        _ => throw new ArgumentOutOfRangeException(nameof(how), how, null),
    }}: {why switch
    {
        ClosingCode.Watered => "water was given",
        ClosingCode.RainCame => "rain came",
        ClosingCode.RainComing => "enough rain is now forecast",
        ClosingCode.MoistEnough => "the bed is moist enough",
        ClosingCode.Drained => "the bed has drained",
        ClosingCode.Covered => "the cover is on",
        ClosingCode.Uncovered => "the cover is off",
        ClosingCode.PhaseChanged => "the bed has moved on to another phase",
        ClosingCode.ForecastChanged => "the forecast has changed",
        ClosingCode.FrostComing => "frost is coming, so the cover stays on",
        ClosingCode.FrostCame => "the frost came",
        ClosingCode.DayPassed => "its day has passed",
        ClosingCode.PinsSeen => "pins were seen",
        ClosingCode.PinsByAccount => "by the account pins have formed; nobody has said so yet",
        ClosingCode.Picked => "it was picked, and the flush is over",
        ClosingCode.FlushOver => "by the account the flush is over",
        ClosingCode.FlushLost => "the flush was lost to frost or drought",
        ClosingCode.AttemptFailed => "by the account, pinning failed: too cold, too warm or too dry",
        ClosingCode.Logged => "the bed was looked after",
        ClosingCode.ToppedUp => "fresh material was laid",
        ClosingCode.BedSpent => "the bed is spent or was given up",
        _ => throw new ArgumentOutOfRangeException(nameof(why), why, null),
    }}.";

    /// <inheritdoc/>
    public override IReadOnlyList<string> EatingCaution(Species species) =>
    [
        "A forecast never says that a mushroom is safe: other fungi come up in open beds. Identify every mushroom with certainty before eating it.",
        .. species.Lookalikes.Select(other => other.InLanguage(Language)).Select(other =>
            $"Check for {other.Name}. {other.Danger} How to tell: {other.Tell}"),
        "Take a spore print, and ask a local expert when in doubt. What stays in doubt is not eaten.",
        "Cook before eating, and try a small portion first.",
        .. species.Cautions.Select(caution => caution.TextIn(Language)),
        "Before selling or giving away what was picked: follow local food law and its inspection.",
    ];

    private string ChanceOf(NoticeDraft notice) => notice.Reason.Numbers.TryGetValue(ReasonNumber.Chance, out var chance)
        ? $" ({Percent(chance)} chance by {Date(notice.Until)})"
        : "";

    /// <summary>What the same futures bring with the advice followed today and without; nothing where they were not compared.</summary>
    private string Compared(NoticeDraft notice)
    {
        var why = notice.Reason;
        if (!why.Numbers.ContainsKey(ReasonNumber.OutcomeCounts))
            return "";
        var (alone, acted) = notice.Kind switch
        {
            NoticeKind.CoverOff => ("Left covered", "uncovered today"),
            NoticeKind.CoverOn => ("Left open", "covered today"),
            _ => ("Left alone", "watered today"),
        };
        var days = why[ReasonNumber.ChanceDays];
        if ((WhatCounts)why[ReasonNumber.OutcomeCounts] is WhatCounts.Moisture)
            return $" {alone}, it is too dry or too wet on about {Number(why[ReasonNumber.BadDaysAlone], 1)} of the next {Days(days + 1)}; {acted}, on about {Number(why[ReasonNumber.BadDaysActed], 1)}.";
        var what = (WhatCounts)why[ReasonNumber.OutcomeCounts] is WhatCounts.Pins ? "pins" : "a harvest";
        return $" {alone} {Percent(why[ReasonNumber.ChanceAlone])}, {acted} {Percent(why[ReasonNumber.ChanceActed])} chance of {what} by {Date(notice.Day.PlusDays((int)days))}.";
    }

    private string Rain(NoticeReason why) => IsDry(why)
        ? $"no rain to speak of is forecast for {Days(why[ReasonNumber.Days])}"
        : $"{WaterDepth(why[ReasonNumber.RainToCome])} of rain is forecast for {Days(why[ReasonNumber.Days])}";

    private string Days(double days) => $"{Number(days)} {(days == 1 ? "day" : "days")}";

    private string Nights(double nights) => $"{Number(nights)} {(nights == 1 ? "night" : "nights")}";

    private string Flushes(double flushes) => $"{Number(flushes)} {(flushes == 1 ? "flush" : "flushes")}";
}
