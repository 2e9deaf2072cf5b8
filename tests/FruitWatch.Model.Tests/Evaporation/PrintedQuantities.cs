using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Evaporation;

/// <summary>Which function of the model gives each quantity of the check table, and why some have none.</summary>
internal static class PrintedQuantities
{
    private const string Hourly = "the model's step is a day";
    private const string CropCoefficients = "crop coefficients: nothing is planted in a bed";
    private const string SoilLayer = "the evaporating layer of bare soil below a crop: a bed keeps its own store, of its own material";
    private const string RootStore = "the store that roots reach: a bed has none";
    private const string MonthlySoilHeat = "heat into the soil over a month: 0 for the day that the model steps by (FAO-56 eq. 42)";
    private const string MulchByCover = "mulch by the share of ground it covers: the bed's mulch acts by its depth";

    public static readonly Dictionary<string, Func<CheckInputs, double>> Covered = new()
    {
        ["energy_to_depth"] = x => Energy.ToDepth(x["energy"] * x["fraction"]),
        ["irradiance_to_energy"] = x => Energy.FromFlux(x["irradiance"]),
        ["depth_to_energy"] = x => Energy.FromDepth(x["depth"]),
        ["latent_heat"] = x => Energy.LatentHeatAt(x["T"]),
        ["atmospheric_pressure"] = x => Vapour.AirPressure(x["z"]),
        ["psychrometric_constant"] = x => Vapour.PsychrometricConstant(Vapour.AirPressure(x["z"])),
        ["saturation_vapour_pressure"] = x => Vapour.Saturation(x["T"]),
        ["mean_saturation_vapour_pressure"] = x => Vapour.MeanSaturation(x["Tmax"], x["Tmin"]),
        ["actual_vapour_pressure_psychrometer"] = x =>
            Vapour.FromPsychrometer(x["Tdry"], x["Twet"], Vapour.AirPressure(x["z"]), x.Or("apsy", 0.000662)),
        ["actual_vapour_pressure_rh"] = Actual,
        ["actual_vapour_pressure_rhmax"] = x => Vapour.FromHighestHumidity(x["Tmin"], x["RHmax"]),
        ["actual_vapour_pressure_rhmean"] = x => Vapour.FromMeanHumidity(x["Tmax"], x["Tmin"], x["RHmean"]),
        ["actual_vapour_pressure_tmin"] = x => Vapour.FromDewPoint(x["Tmin"]),
        ["actual_vapour_pressure_dew"] = x => Vapour.FromDewPoint(x["Tdew"]),
        ["vapour_pressure_deficit"] = x => Vapour.Deficit(x["Tmax"], x["Tmin"], Actual(x)),
        ["vapour_pressure_deficit_tmin"] = x => Vapour.Deficit(x["Tmax"], x["Tmin"], Vapour.FromDewPoint(x["Tmin"])),
        ["relative_humidity"] = x => Vapour.RelativeHumidity(x["ea"], x["T"]),
        ["slope_vapour_pressure_curve"] = x => Vapour.Slope(x["T"]),
        ["latitude_radians"] = x => Sun.Radians(x["lat"]),
        ["day_of_year"] = x => new LocalDate((int)x["year"], (int)x["month"], (int)x["day"]).DayOfYear,
        ["inverse_relative_distance"] = x => Sun.InverseDistance(x.Day),
        ["solar_declination"] = x => Sun.Declination(x.Day),
        ["sunset_hour_angle"] = x => Sun.SunsetHourAngle(x["lat"], x.Day),
        ["extraterrestrial_radiation"] = Top,
        ["extraterrestrial_radiation_mm"] = x => Energy.ToDepth(Top(x)),
        ["daylight_hours"] = x => Sun.DaylightHours(x["lat"], x.Day),
        ["solar_radiation_sunshine"] = Solar,
        ["solar_radiation_temperature"] = Solar,
        ["solar_radiation_mm"] = x => Energy.ToDepth(x["Rs"]),
        ["clear_sky_radiation"] = x => Radiation.ClearSky(x["z"], Top(x)),
        ["blackbody_emission"] = x => Radiation.BlackBody(x["T"]),
        ["net_shortwave_radiation"] = x => Radiation.NetShortwave(Solar(x)),
        ["net_longwave_radiation"] = Longwave,
        ["net_radiation"] = Net,
        ["net_radiation_mm"] = x => Energy.ToDepth(Net(x)),
        ["wind_height_factor"] = x => ReferenceEvapotranspiration.WindAtTwoMetres(1, x["z"]),
        ["wind_speed_2m"] = x => ReferenceEvapotranspiration.WindAtTwoMetres(x["uz"], x["z"]),
        ["reference_et_pm"] = x => ReferenceEvapotranspiration.PenmanMonteith(
            x["Tmax"], x["Tmin"], Actual(x), WindOf(x), Net(x) - x["G"], x["z"]),
        ["reference_et_pm_temperature_only"] = OnTheLadder,
        ["reference_et_hargreaves"] = x => ReferenceEvapotranspiration.HargreavesSamani(x["Tmax"], x["Tmin"], Top(x)),
    };

    public static readonly Dictionary<string, string> NotCovered = new()
    {
        ["soil_heat_flux_month"] = MonthlySoilHeat,
        ["soil_heat_flux_month_prev"] = MonthlySoilHeat,
        ["seasonal_time_correction"] = Hourly,
        ["solar_time_angle"] = Hourly,
        ["extraterrestrial_radiation_hour"] = Hourly,
        ["extraterrestrial_radiation_hour_series"] = Hourly,
        ["clear_sky_radiation_hour"] = Hourly,
        ["reference_et_hourly"] = Hourly,
        ["reference_et_asce_hourly_series"] = Hourly,
        ["evaporation_layer_series.De_start"] = SoilLayer,
        ["evaporation_layer_series.De_end"] = SoilLayer,
        ["evaporation_layer_series.Kr"] = SoilLayer,
        ["evaporation_layer_series.E"] = SoilLayer,
        ["evaporation_layer_series.E_few"] = SoilLayer,
        ["evaporation_layer_series.DPe"] = SoilLayer,
        ["evaporation_layer_series.Ke"] = CropCoefficients,
        ["evaporation_layer_series.Kc"] = CropCoefficients,
        ["evaporation_layer_series.ETc"] = CropCoefficients,
        ["evaporation_coefficient"] = CropCoefficients,
        ["kc_max"] = CropCoefficients,
        ["kc_initial"] = CropCoefficients,
        ["kc_initial_interpolated"] = CropCoefficients,
        ["kc_plastic_mulch"] = CropCoefficients,
        ["cover_fraction"] = CropCoefficients,
        ["exposed_wetted_fraction"] = CropCoefficients,
        ["exposed_wetted_fraction_drip"] = CropCoefficients,
        ["total_evaporable_water"] = SoilLayer,
        ["rew_light_wetting"] = SoilLayer,
        ["total_evaporable_water_mulched"] = MulchByCover,
        ["evaporation_reduction_organic_mulch"] = MulchByCover,
        ["total_available_water"] = RootStore,
        ["readily_available_water"] = RootStore,
        ["root_store_series.Dr_start"] = RootStore,
        ["root_store_series.Dr_end"] = RootStore,
        ["root_store_series.Ks"] = RootStore,
        ["root_store_series.ETc_adj"] = RootStore,
        ["depletion_fraction_adjusted"] = RootStore,
    };

    private static double Top(CheckInputs x) => Sun.ExtraterrestrialRadiation(x["lat"], x.Day);

    /// <summary>By whichever of measured radiation, sunshine and the range of temperature the row gives.</summary>
    private static double Solar(CheckInputs x)
    {
        if (x.Has("Rs"))
            return x["Rs"];
        if (x.Has("n"))
            return Radiation.FromSunshine(x["n"], Sun.DaylightHours(x["lat"], x.Day), Top(x), x.Or("as", 0.25), x.Or("bs", 0.50));
        return Radiation.FromTemperatureRange(x["Tmax"], x["Tmin"], Coastal(x), x.Or("z", 0), Top(x));
    }

    private static double Actual(CheckInputs x) =>
        x.Has("ea") ? x["ea"]
        : x.Has("RHmin") ? Vapour.FromHumidityExtremes(x["Tmax"], x["Tmin"], x["RHmax"], x["RHmin"])
        : Vapour.FromDewPoint(x["Tmin"] - x["Tdew_offset"]);

    private static double Longwave(CheckInputs x) => Radiation.NetLongwave(
        x["Tmax"], x["Tmin"], Actual(x), Solar(x), Radiation.ClearSky(x["z"], Top(x)));

    private static double Net(CheckInputs x) => Radiation.NetShortwave(Solar(x)) - Longwave(x);

    private static double WindOf(CheckInputs x) =>
        x.Has("u2") ? x["u2"] : ReferenceEvapotranspiration.WindAtTwoMetres(x["uz"], x["zw"]);

    /// <summary>The whole ladder on a day that knows nothing but its extremes and a wind.</summary>
    private static double OnTheLadder(CheckInputs x)
    {
        var day = new WeatherDay(new LocalDate(2015, 1, 1).PlusDays(x.Day - 1), x["Tmax"], x["Tmin"], 0) { Wind = x["u2"] };
        var (et0, rung) = new EvaporationLadder(x["lat"], x["z"], Coastal(x)).Of(day);
        Assert.Equal(EvaporationRung.PenmanMonteith, rung);
        return et0;
    }

    private static bool Coastal(CheckInputs x) => x["kRs"] switch
    {
        0.16 => false,
        0.19 => true,
        var other => throw new ArgumentException($"kRs {other} is neither inland nor coastal."),
    };
}
