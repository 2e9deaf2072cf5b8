namespace FruitWatch.Model.Beds;

/// <summary>What lies over a bed.</summary>
public enum Cover : byte
{
    /// <summary>Nothing.</summary>
    None,

    /// <summary>A closed sheet or tarp.</summary>
    Sheet,

    /// <summary>A sheet with holes.</summary>
    PiercedSheet,
}

/// <summary>Share of evaporation and of rain that a cover lets through.</summary>
/// <param name="Evaporation">0…1</param>
/// <param name="Rain">0…1</param>
public sealed record CoverEffect(double Evaporation, double Rain);
