using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string ChartsTitle => "How it went";

    public override string FromDay => "From";

    public override string ToDay => "To";

    public override string Show => "Show";

    public override string SinceMade => "Since the bed was made";

    public override string DaysNotUnderstood(int most) =>
        $"Give two days, the first one first, at most {Number(most)} days apart. Shown: the last months.";

    public override string DaysNotKnown(LocalDate first, LocalDate last) =>
        $"Nothing is known of those days, only from {DateWithYear(first, last)} to {DateWithYear(last, last)}. Shown: the last months.";

    public override string AsTable => "As a table";

    public override string Day => "Day";

    public override string ForecastMark => "(forecast)";

    public override string ForecastFromHere => "forecast";

    public override string NothingToShow => "The bed's account has no day in this stretch.";

    public override string AxisDay(LocalDate date, int days) =>
        days > 130 ? date.ToString(date.Month == 1 ? "MMM uuuu" : "MMM", Culture) : date.ToString("d MMM", Culture);

    public override string WeatherChartTitle => "Weather";

    public override string HighestTemperature => "Highest";

    public override string LowestTemperature => "Lowest";

    public override string RainLegend => $"Rain, {RainSign}";

    public override string WeatherWas(int days, double low, double high, double rain) =>
        $"In the {Number(days)} days before today: {Temperature(low)} to {Temperature(high)} and {WaterDepth(rain)} of rain.";

    public override string WeatherToCome(int days, double low, double high, double rain) =>
        $"Forecast for {Days(days)} from today: {Temperature(low)} to {Temperature(high)} and {WaterDepth(rain)} of rain.";

    public override string MoistureChartTitle => "Moisture of the bed";

    public override string MoistureOfBed => "Of what it can hold";

    public override string WaterMarkName => "Water below this";

    public override string CapacityName => "Holds no more";

    public override string WaterGiven => "Water given";

    public override string ShareOfWater => "Water by weight";

    public override string RainOnBed => "Rain on the bed";

    public override string MoistureSaid(LocalDate on, double now, double mark, double least, LocalDate leastOn, double last, LocalDate lastOn) =>
        $"On {Date(on)} the bed is at {Percent(now)} of what it can hold; its mark for watering is {Percent(mark)}. Driest: {Percent(least)} on {ShortDate(leastOn)}. At the end, on {ShortDate(lastOn)}: {Percent(last)}.";

    public override string TemperatureChartTitle => "Temperature of the bed";

    public override string InTheBed => "In the bed";

    public override string InTheSoil => "In the soil below";

    public override string WherePinsForm => "Where pins form";

    public override string AtTheGround => "Lowest at the surface";

    public override string PinningBand(Band band) => $"Pins best at {BareTemperature(band.FullFrom)} to {Temperature(band.FullTo)}";

    public override string TemperatureSaid(LocalDate on, double bed, double soil, double pinZone, double least, double most, Band band) =>
        $"On {Date(on)}: {Temperature(bed)} in the bed, {Temperature(soil)} in the soil, {Temperature(pinZone)} where pins form. The bed went from {Temperature(least)} to {Temperature(most)}. Pins form best at {BareTemperature(band.FullFrom)} to {Temperature(band.FullTo)}, and not below {Temperature(band.ZeroBelow)} or above {Temperature(band.ZeroAbove)}.";

    public override string ProgressChartTitle => "Spawn run, score and phases";

    public override string PhaseTitle => "Phase";

    public override string Happened => "What happened";

    public override string PhaseInStrip(Phase phase) => $"Phase: {NameOf(phase)}";

    public override string NameOf(AccountEvent happening) => happening switch
    {
        AccountEvent.Colonised => "run through",
        AccountEvent.Triggered => "pinning begins",
        AccountEvent.AttemptFailed => "pinning failed",
        AccountEvent.Pins => "pins",
        AccountEvent.FlushLost => "flush lost",
        AccountEvent.Harvest => "harvest",
        AccountEvent.FlushOver => "flush over",
        AccountEvent.Ready => "ready again",
        AccountEvent.Spent => "spent",
        AccountEvent.HeatDamage => "set back by heat",
        _ => "",
    };

    public override string ProgressSaid(LocalDate on, double spawnRun, Phase phase, double score, double best, LocalDate bestOn, int flushes) =>
        $"On {Date(on)}: phase {NameOf(phase)}, spawn run {Percent(spawnRun)}, score {Number(score)} of 100, {Flushes(flushes)} so far. Best score: {Number(best)} on {ShortDate(bestOn)}.";
}
