namespace FruitWatch.Model.Notices;

/// <summary>Every rule, in the order in which a grower should read its notices: what presses first.</summary>
public static class NoticeRules
{
    /// <summary>One rule for every kind.</summary>
    public static IReadOnlyList<NoticeRule> All { get; } =
    [
        new FrostAheadRule(),
        new HeatAheadRule(),
        new StormAheadRule(),
        new WaterRule(),
        new HoldWaterRule(),
        new CoverOnRule(),
        new CoverOffRule(),
        new ExpectHarvestRule(),
        new ExpectPinsRule(),
        new WeeklyCheckRule(),
        new YearlyFeedingRule(),
        new SpentRule(),
    ];
}
