namespace FruitWatch.Store.Entities;

/// <summary>What a person is in a cooperative.</summary>
public enum Role : byte
{
    /// <summary>Looks after own beds.</summary>
    Grower,

    /// <summary>Answers for the cooperative: everything in it.</summary>
    Coordinator,

    /// <summary>Works at the sites that they are told about: today's list, and what was done.</summary>
    FarmHand,

    /// <summary>Reads, and changes nothing.</summary>
    Viewer,
}

/// <summary>In which units somebody reads.</summary>
public enum Units : byte
{
    /// <summary>°C, mm, litres, metres, kilograms.</summary>
    Metric,

    /// <summary>°F, inches, US gallons, feet, pounds.</summary>
    UsCustomary,
}
