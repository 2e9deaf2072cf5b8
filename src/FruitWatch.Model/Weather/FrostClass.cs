namespace FruitWatch.Model.Weather;

/// <summary>How hard a night froze, by the lowest air temperature at screen height: the common classes of the United States.</summary>
public enum FrostClass : byte
{
    /// <summary>Above 36 °F (2.2 °C).</summary>
    None,

    /// <summary>No freeze, but frost can form on the ground: 33–36 °F (0.6…2.2 °C), and down to 0 °C.</summary>
    Possible,

    /// <summary>29–32 °F (−1.7…0 °C).</summary>
    Light,

    /// <summary>25–28 °F (−3.9…−2.2 °C).</summary>
    Moderate,

    /// <summary>24 °F (−4.4 °C) and below.</summary>
    Severe,
}
