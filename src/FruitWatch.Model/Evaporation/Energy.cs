namespace FruitWatch.Model.Evaporation;

/// <summary>Energy as the water that it evaporates, and the other way round. FAO-56 chapters 1 and 3.</summary>
public static class Energy
{
    /// <summary>Latent heat of vaporisation that FAO-56 takes for all temperatures. [MJ/kg]</summary>
    /// <remarks>FAO-56 p. 31: its value at 20 °C.</remarks>
    public const double LatentHeat = 2.45;

    /// <summary>Latent heat of vaporisation. [MJ/kg]</summary>
    /// <param name="t">Air temperature. [°C]</param>
    /// <remarks>FAO-56 eq. 3-1 (Annex 3).</remarks>
    public static double LatentHeatAt(double t) => 2.501 - 2.361e-3 * t;

    /// <summary>Depth of water that an energy evaporates. [mm/d]</summary>
    /// <param name="energy">[MJ/m²/d]</param>
    /// <remarks>FAO-56 eq. 20.</remarks>
    public static double ToDepth(double energy) => ReferenceEvapotranspiration.DepthPerEnergy * energy;

    /// <summary>Energy that evaporates a depth of water. [MJ/m²/d]</summary>
    /// <param name="depth">[mm/d]</param>
    /// <remarks>FAO-56 table 3.</remarks>
    public static double FromDepth(double depth) => LatentHeat * depth;

    /// <summary>Energy of a day from its mean flux. [MJ/m²/d]</summary>
    /// <param name="flux">[W/m²]</param>
    /// <remarks>FAO-56 table 3: 86 400 s in a day.</remarks>
    public static double FromFlux(double flux) => 0.0864 * flux;
}
