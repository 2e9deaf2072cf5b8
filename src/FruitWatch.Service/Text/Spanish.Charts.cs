using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string ChartsTitle => "Cómo ha ido";

    public override string FromDay => "Desde";

    public override string ToDay => "Hasta";

    public override string Show => "Mostrar";

    public override string SinceMade => "Desde que se hizo la cama";

    public override string DaysNotUnderstood(int most) =>
        $"Indicar dos días en orden, con {Number(most)} días de diferencia como máximo. Se muestran los últimos meses.";

    public override string DaysNotKnown(LocalDate first, LocalDate last) =>
        $"No se sabe nada de esos días, solo del {DateWithYear(first, last)} al {DateWithYear(last, last)}. Se muestran los últimos meses.";

    public override string AsTable => "Como tabla";

    public override string Day => "Día";

    public override string ForecastMark => "(pronóstico)";

    public override string ForecastFromHere => "pronóstico";

    public override string NothingToShow => "La cuenta de la cama no tiene ningún día en este tramo.";

    public override string AxisDay(LocalDate date, int days) =>
        days > 130 ? date.ToString(date.Month == 1 ? "MMM uuuu" : "MMM", Culture) : date.ToString("d MMM", Culture);

    public override string WeatherChartTitle => "Tiempo";

    public override string HighestTemperature => "Máxima";

    public override string LowestTemperature => "Mínima";

    public override string RainLegend => $"Lluvia, {RainSign}";

    public override string WeatherWas(int days, double low, double high, double rain) =>
        $"En los {Number(days)} días antes de hoy: de {Temperature(low)} a {Temperature(high)} y {WaterDepth(rain)} de lluvia.";

    public override string WeatherToCome(int days, double low, double high, double rain) =>
        $"Pronóstico para {Days(days)} desde hoy: de {Temperature(low)} a {Temperature(high)} y {WaterDepth(rain)} de lluvia.";

    public override string MoistureChartTitle => "Humedad de la cama";

    public override string MoistureOfBed => "De lo que puede retener";

    public override string WaterMarkName => "Regar por debajo";

    public override string CapacityName => "No retiene más";

    public override string WaterGiven => "Agua dada";

    public override string ShareOfWater => "Agua en peso";

    public override string RainOnBed => "Lluvia en la cama";

    public override string MoistureSaid(LocalDate on, double now, double mark, double least, LocalDate leastOn, double last, LocalDate lastOn) =>
        $"El {Date(on)} la cama está al {Percent(now)} de lo que puede retener; su límite de riego es el {Percent(mark)}. Lo más seco: {Percent(least)} el {ShortDate(leastOn)}. Al final, el {ShortDate(lastOn)}: {Percent(last)}.";

    public override string TemperatureChartTitle => "Temperatura de la cama";

    public override string InTheBed => "En la cama";

    public override string InTheSoil => "En el suelo de debajo";

    public override string WherePinsForm => "Donde salen los primordios";

    public override string AtTheGround => "Mínima en la superficie";

    public override string PinningBand(Band band) => $"Primordios mejor de {BareTemperature(band.FullFrom)} a {Temperature(band.FullTo)}";

    public override string TemperatureSaid(LocalDate on, double bed, double soil, double pinZone, double least, double most, Band band) =>
        $"El {Date(on)}: {Temperature(bed)} en la cama, {Temperature(soil)} en el suelo, {Temperature(pinZone)} donde salen los primordios. La cama fue de {Temperature(least)} a {Temperature(most)}. Los primordios salen mejor de {BareTemperature(band.FullFrom)} a {Temperature(band.FullTo)}, y no por debajo de {Temperature(band.ZeroBelow)} ni por encima de {Temperature(band.ZeroAbove)}.";

    public override string ProgressChartTitle => "Incubación, puntuación y fases";

    public override string PhaseTitle => "Fase";

    public override string Happened => "Qué pasó";

    public override string PhaseInStrip(Phase phase) => $"Fase: {NameOf(phase)}";

    public override string NameOf(AccountEvent happening) => happening switch
    {
        AccountEvent.Colonised => "incubación completa",
        AccountEvent.Triggered => "empiezan los primordios",
        AccountEvent.AttemptFailed => "primordios malogrados",
        AccountEvent.Pins => "primordios",
        AccountEvent.FlushLost => "oleada perdida",
        AccountEvent.Harvest => "cosecha",
        AccountEvent.FlushOver => "fin de la oleada",
        AccountEvent.Ready => "lista de nuevo",
        AccountEvent.Spent => "agotada",
        AccountEvent.HeatDamage => "retroceso por calor",
        _ => "",
    };

    public override string ProgressSaid(LocalDate on, double spawnRun, Phase phase, double score, double best, LocalDate bestOn, int flushes) =>
        $"El {Date(on)}: fase {NameOf(phase)}, incubación {Percent(spawnRun)}, puntuación {Number(score)} de 100, {Flushes(flushes)} hasta ahora. Mejor puntuación: {Number(best)} el {ShortDate(bestOn)}.";
}
