using FruitWatch.Model.Account;

namespace FruitWatch.Service.Pages;

/// <summary>The moisture of a bed in a word.</summary>
internal enum MoistureWord
{
    /// <summary>Below the mark for watering.</summary>
    Dry,

    /// <summary>Between the mark for watering and what the bed keeps after draining.</summary>
    Moist,

    /// <summary>More than it keeps: draining.</summary>
    Wet,
}

/// <summary>Which word fits a day.</summary>
internal static class MoistureWords
{
    public static MoistureWord Of(AccountDay day) =>
        day.Moisture < day.WaterMark ? MoistureWord.Dry : day.Moisture > 1 ? MoistureWord.Wet : MoistureWord.Moist;
}
