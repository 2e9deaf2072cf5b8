using FruitWatch.Model.Beds;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Outlooks;
using FruitWatch.Service.Outlooks;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string OutlookTitle => "Perspectiva";

    public override string OutlookFutures(int members, FutureSource source, LocalDate lastForecastDay, IReadOnlyList<int> years)
    {
        var past = years.Count == 0 ? "" : $"el tiempo de {Number(years.Count)} años pasados ({Years(years)})";
        var ahead = source switch
        {
            FutureSource.Ensemble => $"los miembros del conjunto del propio pronóstico, hasta el {ShortDate(lastForecastDay)}",
            FutureSource.Dressed => $"el pronóstico hasta el {ShortDate(lastForecastDay)} con los errores que tienen tales pronósticos",
            _ => "",
        };
        return (ahead, past) switch
        {
            ("", _) => $"{Number(members)} futuros, sin pronóstico: {past} desde hoy.",
            (_, "") => $"{Number(members)} futuros: {ahead}.",
            _ => $"{Number(members)} futuros: {ahead}, y después {past}.",
        };
    }

    public override string OutlookIsShort =>
        "La perspectiva acaba con el pronóstico. Para ver una temporada por delante hace falta el tiempo diario de al menos dos años pasados: entregar un archivo con ellos como fuente del historial del sitio.";

    public override string OutlookNote(FutureNote note)
    {
        var n = note.Numbers;
        return note.Code switch
        {
            FutureNoteCode.MembersUnequal => $"Los miembros del conjunto acaban en días distintos, tras {Number(n[0])} a {Days(n[1])}. Los más cortos siguen antes con años pasados.",
            FutureNoteCode.MemberDaysMissing => $"Días que faltaban y se completaron: {Number(n[1])}, en {Number(n[0])} de los miembros del conjunto.",
            FutureNoteCode.MembersLeftOut => $"Sin usar, por huecos que no se pudieron completar: {Number(n[0])} de los {Number(n[1])} miembros del conjunto.",
            FutureNoteCode.TooFewMembers => $"Solo se pudieron usar {Number(n[0])} de los {Number(n[1])} miembros del conjunto. Su media hace de pronóstico único.",
            FutureNoteCode.ForecastDaysMissing => $"Días que faltaban en el pronóstico y se completaron: {Number(n[0])}.",
            FutureNoteCode.ForecastCutShort => $"El pronóstico se usa solo hasta un hueco que empieza el {Date(note.Day!.Value)} y no se pudo completar.",
            FutureNoteCode.NoForecast => "No hay pronóstico que llegue a hoy. Los primeros días son tan inciertos como los siguientes.",
            FutureNoteCode.HistoryTooShort => n[0] == 0
                ? "No se conoce ningún año pasado del tiempo de este sitio para los meses que vienen."
                : "Solo se conoce un año pasado del tiempo de este sitio para los meses que vienen; uno dice demasiado poco.",
            FutureNoteCode.HistoryHoles => $"No se usan por sus huecos, más de un décimo de los días: {Years(n)}.",
            FutureNoteCode.FewYears => $"{Number(n[0])} años pasados son pocos: cada uno se usa varias veces, hasta una semana antes y después. La dispersión de los meses más lejanos es aproximada.",
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Code, null),
        };
    }

    public override string OutlookMissing(OutlookProblem problem) => problem switch
    {
        OutlookProblem.NoWeather => "Sin perspectiva: no se sabe nada del tiempo de este sitio hasta ayer. Obtener su tiempo pasado.",
        OutlookProblem.WeatherStartsLater => "Sin perspectiva: el tiempo conocido empieza después de hacerse la cama. Obtener el tiempo pasado del sitio.",
        OutlookProblem.NotYetMade => "La cama aún está por hacer. Su perspectiva empieza ese día.",
        _ => "Sin perspectiva: no hay pronóstico que llegue a hoy y se conocen menos de dos años pasados del tiempo de este sitio.",
    };

    public override string OutlookIsLikelihood => "Son probabilidades, no promesas. No dicen nada de lo que es seguro comer.";

    public override string OutlookChances => "Probabilidad, si no se hace nada";

    public override string OutlookDates => "Para qué día, si no se hace nada";

    public override string OutlookWhat => "Qué";

    public override string OutlookWithin(int days) => Days(days);

    public override string OutlookTo(LocalDate last) => $"al {BriefDate(last)}";

    public override string OutlookOf(int count, int members) => $"{Number(count)} de {Number(members)}";

    public override string OutlookTenths(int tenths) => tenths == 5 ? "en la mitad de los futuros" : $"en {Number(tenths)} de 10 futuros";

    public override string NameOf(OutlookEvent what) => what switch
    {
        OutlookEvent.Pins => "Primordios",
        OutlookEvent.Harvest => "Cosecha",
        OutlookEvent.Dry => "Falta agua",
        OutlookEvent.Wet => "Demasiado mojada",
        OutlookEvent.Frost => "Helada que activa los primordios",
        _ => throw new ArgumentOutOfRangeException(nameof(what), what, null),
    };

    public override string OutlookDay(LocalDate? day, LocalDate last) => day is { } known ? BriefDate(known) : $"después del {BriefDate(last)}";

    protected override string OutlookWindow(LocalDate? from, LocalDate? until, string chance, LocalDate last) => (from, until) switch
    {
        (null, _) => $"poco probable: {chance} hasta el {ShortDate(last)}",
        ({ } first, null) => $"desde el {ShortDate(first)}; {chance} hasta el {ShortDate(last)}",
        ({ } first, { } end) => first == end
            ? $"{ShortDate(first)}; {chance} hasta el {ShortDate(last)}"
            : $"del {ShortDate(first)} al {ShortDate(end)}; {chance} hasta el {ShortDate(last)}",
    };

    public override string OutlookWhatIf => "Qué se podría hacer hoy";

    public override string OutlookCompared(int days, LocalDate by, WhatCounts counts) =>
        $"En los mismos futuros, durante {Days(days)} hasta el {Date(by)}. "
        + counts switch
        {
            WhatCounts.Pins => "En esta fase es mejor lo que da más probabilidad de primordios.",
            WhatCounts.Harvest => "En esta fase es mejor lo que da más probabilidad de cosecha.",
            _ => "En esta fase es mejor lo que deja menos días con la cama demasiado seca o mojada.",
        };

    public override string OutlookCourse => "Qué se hace";

    public override string OutlookBadDays => "Días seca o mojada de más";

    public override string OutlookLeftAlone => "Nada";

    public override string OutlookWatered(double litres) => $"Regar {Volume(litres)}";

    public override string OutlookKeptMoist => "Regada cada vez que baja de su límite";

    public override string OutlookCovered(Cover then) => then == Cover.None ? "Quitar la cubierta" : "Poner cubierta";

    public override string NameOf(CourseVerdict verdict) => verdict switch
    {
        CourseVerdict.Better => "mejor",
        CourseVerdict.Worse => "peor",
        _ => "sin diferencia real",
    };

    public override string OutlookWater => "Agua por semana";

    public override string OutlookWaterSaid => "Lo que mantiene la cama por encima de su límite, si se llena cada vez que baja de él: la media de todos los futuros, y cuántos de ellos piden agua.";

    public override string OutlookWeek => "Semana";

    public override string OutlookVolume => Units == Units.Metric ? "Litros" : "Galones";

    public override string OutlookWanted => "Futuros que piden agua";

    public override string OutlookLaterWeeks(int weeks) => weeks == 1 ? "Una semana posterior" : $"{Number(weeks)} semanas posteriores";

    public override string OutlookChanceChart => "Probabilidad por día";

    public override string OutlookChanceSaid(LocalDate soon, string pinsSoon, string harvestSoon, string drySoon, LocalDate last, string pins, string harvest, string dry) =>
        $"Hasta el {Date(soon)}: primordios {pinsSoon}, cosecha {harvestSoon}, falta de agua {drySoon}."
        + (soon == last ? "" : $" Hasta el final, el {Date(last)}: primordios {pins}, cosecha {harvest}, falta de agua {dry}.");

    public override string OutlookMoistureChart => "Humedad que viene";

    public override string OutlookMoistureSaid(LocalDate on, double low, double middle, double high, double mark, double least, LocalDate leastOn) =>
        $"El {Date(on)}, si no se hace nada, la cama está al {Percent(middle)} de lo que puede retener, en 8 de 10 futuros entre el {Percent(low)} y el {Percent(high)}; su límite de riego es el {Percent(mark)}. La línea media es más baja el {ShortDate(leastOn)}: {Percent(least)}.";

    public override string OutlookTemperatureChart => "Temperatura de la cama que viene";

    public override string OutlookTemperatureSaid(LocalDate on, double low, double middle, double high, double coldest, double warmest) =>
        $"El {Date(on)}: {Temperature(middle)} en la cama, en 8 de 10 futuros entre {Temperature(low)} y {Temperature(high)}. En toda la perspectiva la línea media va de {Temperature(coldest)} a {Temperature(warmest)}.";

    public override string OutlookMiddle => "La mitad de los futuros por debajo, la mitad por encima";

    public override string OutlookRange => "8 de 10 futuros";

    public override string OutlookLow => "1 de 10 por debajo";

    public override string OutlookHigh => "1 de 10 por encima";

    public override string OutlookPastYears => "años pasados";
}
