using FruitWatch.Service.Weather;

namespace FruitWatch.Service.Text;

// Where the days of weather came from.
internal abstract partial class Words
{
    /// <summary>In the place of a day's temperatures.</summary>
    public abstract string TemperatureUnknown { get; }

    /// <summary>In the place of a day's rain.</summary>
    public abstract string RainUnknown { get; }

    /// <summary>Head of the column that says where temperatures came from.</summary>
    public abstract string SourcesTemperature { get; }

    /// <summary>Head of the column that says where rain came from.</summary>
    public abstract string SourcesRain { get; }

    /// <summary>Where a value came from; a dash where it is not known.</summary>
    public abstract string SourcesName(DaySource? source);

    /// <summary>Where yesterday's weather came from.</summary>
    public abstract string SourcesYesterday(DaySource? temperature, DaySource? rain);

    /// <summary>A feed's name in brackets, where there is one.</summary>
    protected static string SourcesNamed(string kind, DaySource source) => source.Title.Length > 0 ? $"{kind} ({source.Title})" : kind;
}
