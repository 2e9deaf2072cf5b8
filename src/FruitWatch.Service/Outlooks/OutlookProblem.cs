namespace FruitWatch.Service.Outlooks;

/// <summary>Why a bed has no outlook.</summary>
internal enum OutlookProblem
{
    /// <summary>It has one.</summary>
    None,

    /// <summary>Nothing is known of the site's weather up to yesterday, from which its futures would go on.</summary>
    NoWeather,

    /// <summary>The bed is older than the known weather.</summary>
    WeatherStartsLater,

    /// <summary>The bed is still to be made.</summary>
    NotYetMade,

    /// <summary>There is no forecast that reaches today, and there are not two past years to stand in for it.</summary>
    NoForecast,
}
