using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Service.Text;

// Charts and the tables beside them.
internal abstract partial class Words
{
    public abstract string ChartsTitle { get; }

    public abstract string FromDay { get; }

    public abstract string ToDay { get; }

    public abstract string Show { get; }

    public abstract string SinceMade { get; }

    public abstract string DaysNotUnderstood(int most);

    public abstract string DaysNotKnown(LocalDate first, LocalDate last);

    public abstract string AsTable { get; }

    public abstract string Day { get; }

    public abstract string ForecastMark { get; }

    public abstract string ForecastFromHere { get; }

    public abstract string NothingToShow { get; }

    /// <summary>A day below a chart: of the month where there are few, a month where there are many.</summary>
    public abstract string AxisDay(LocalDate date, int days);

    public abstract string WeatherChartTitle { get; }

    public abstract string HighestTemperature { get; }

    public abstract string LowestTemperature { get; }

    public abstract string RainLegend { get; }

    public abstract string WeatherWas(int days, double low, double high, double rain);

    public abstract string WeatherToCome(int days, double low, double high, double rain);

    public abstract string MoistureChartTitle { get; }

    public abstract string MoistureOfBed { get; }

    public abstract string WaterMarkName { get; }

    public abstract string CapacityName { get; }

    public abstract string WaterGiven { get; }

    public abstract string ShareOfWater { get; }

    public abstract string RainOnBed { get; }

    public abstract string MoistureSaid(LocalDate on, double now, double mark, double least, LocalDate leastOn, double last, LocalDate lastOn);

    public abstract string TemperatureChartTitle { get; }

    public abstract string InTheBed { get; }

    public abstract string InTheSoil { get; }

    public abstract string WherePinsForm { get; }

    public abstract string AtTheGround { get; }

    public abstract string PinningBand(Band band);

    public abstract string TemperatureSaid(LocalDate on, double bed, double soil, double pinZone, double least, double most, Band band);

    public abstract string ProgressChartTitle { get; }

    public abstract string PhaseTitle { get; }

    public abstract string Happened { get; }

    /// <summary>A phase in the legend of the strip of phases.</summary>
    public abstract string PhaseInStrip(Phase phase);

    public abstract string NameOf(AccountEvent happening);

    public abstract string ProgressSaid(LocalDate on, double spawnRun, Phase phase, double score, double best, LocalDate bestOn, int flushes);
}
