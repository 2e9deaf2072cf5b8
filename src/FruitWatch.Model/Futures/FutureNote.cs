using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>What a reader of the futures should know about them.</summary>
public enum FutureNoteCode : byte
{
    /// <summary>The feed's members end on different days. Numbers: days of the shortest, of the longest.</summary>
    MembersUnequal,

    /// <summary>Missing days of members were filled. Numbers: members, days.</summary>
    MemberDaysMissing,

    /// <summary>Members with holes that could not be filled were left out. Numbers: members left out, members of the feed.</summary>
    MembersLeftOut,

    /// <summary>Too few usable members: their mean was dressed instead. Numbers: usable members, members of the feed.</summary>
    TooFewMembers,

    /// <summary>Missing days of the forecast were filled. Numbers: days.</summary>
    ForecastDaysMissing,

    /// <summary>The forecast was used only up to a hole that could not be filled. Day: the first of the hole.</summary>
    ForecastCutShort,

    /// <summary>There is no forecast.</summary>
    NoForecast,

    /// <summary>Too few past years to look beyond the forecast. Numbers: usable years.</summary>
    HistoryTooShort,

    /// <summary>Past years with more than a tenth of their days missing were not used. Numbers: the years.</summary>
    HistoryHoles,

    /// <summary>So few past years that each was used with shifts of some days. Numbers: usable years.</summary>
    FewYears,
}

/// <summary>A note beside the futures of a site, in numbers: whoever shows it finds the words.</summary>
/// <param name="Code">What it is about; says what the numbers mean.</param>
/// <param name="Numbers">See <paramref name="Code"/>.</param>
/// <param name="Day">See <paramref name="Code"/>.</param>
public sealed record FutureNote(FutureNoteCode Code, IReadOnlyList<int> Numbers, LocalDate? Day = null)
{
    internal static FutureNote Of(FutureNoteCode code, params int[] numbers) => new(code, numbers);
}
