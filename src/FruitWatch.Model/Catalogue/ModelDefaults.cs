namespace FruitWatch.Model.Catalogue;

/// <summary>How wrong a single temperature forecast is taken to be, where the site's own errors are not known yet.</summary>
/// <param name="S0Tmax">Error of today's highest temperature. [°C, standard deviation]</param>
/// <param name="S0Tmin">Error of today's lowest temperature. [°C, standard deviation]</param>
/// <param name="ScTmax">Spread of the highest temperature about its climatology, reached at long lead. [°C, standard deviation]</param>
/// <param name="ScTmin">Spread of the lowest temperature about its climatology, reached at long lead. [°C, standard deviation]</param>
/// <param name="LeadScaleDays">Lead over which the forecast loses its skill. [d]</param>
/// <param name="TDf">Degrees of freedom of the errors' Student t: fewer means more large errors.</param>
public sealed record ForecastErrorDefaults(
    double S0Tmax, double S0Tmin, double ScTmax, double ScTmin, double LeadScaleDays, int TDf);

/// <summary>How much a bed may differ from the catalogue, and how far what is seen at it can be trusted.</summary>
/// <param name="SigmaEvaporation">Spread of the multiplier on evaporation. [standard deviation of its logarithm]</param>
/// <param name="SigmaGrowth">Spread of the multiplier on growth. [standard deviation of its logarithm]</param>
/// <param name="Pairs">Pairs of multipliers drawn.</param>
/// <param name="SdMoisture">Error of a squeeze test's moisture, wet basis. [standard deviation, 0…1]</param>
/// <param name="SdPinsDays">Error of the account's pins date. [d, standard deviation]</param>
/// <param name="SdMycelium">Error of the share of the bed seen run through. [standard deviation, 0…1]</param>
public sealed record LearningDefaults(
    double SigmaEvaporation, double SigmaGrowth, int Pairs, double SdMoisture, double SdPinsDays, double SdMycelium);
