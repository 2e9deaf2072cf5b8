using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Model.Outlooks;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    /// <inheritdoc/>
    public override string NameOf(Phase phase) => phase switch
    {
        Phase.SpawnRun => "incubación",
        Phase.Ready => "lista",
        Phase.Pinning => "formando primordios",
        Phase.Growing => "creciendo",
        Phase.Picking => "en cosecha",
        Phase.Resting => "en descanso",
        Phase.Spent => "agotada",
        _ => throw new ArgumentOutOfRangeException(nameof(phase), phase, null),
    };

    /// <inheritdoc/>
    public override string NameOf(LimitingFactor limit, bool tooWet = false) => limit switch
    {
        LimitingFactor.Moisture => tooWet ? "demasiado mojada" : "demasiado seca",
        LimitingFactor.Temperature => "fuera de sus temperaturas",
        LimitingFactor.Humidity => "aire demasiado seco",
        LimitingFactor.Soak => "espera un buen remojo",
        LimitingFactor.Frost => "espera una helada",
        LimitingFactor.Cooling => "espera un descenso de temperatura",
        _ => throw new ArgumentOutOfRangeException(nameof(limit), limit, null),
    };

    /// <inheritdoc/>
    public override string NameOf(NoticeKind kind) => kind switch
    {
        NoticeKind.Water => "Regar",
        NoticeKind.HoldWater => "No regar",
        NoticeKind.CoverOn => "Cubrir",
        NoticeKind.CoverOff => "Destapar",
        NoticeKind.FrostAhead => "Aviso de helada",
        NoticeKind.HeatAhead => "Aviso de calor",
        NoticeKind.ExpectPins => "Esperar primordios",
        NoticeKind.ExpectHarvest => "Esperar cosecha",
        NoticeKind.WeeklyCheck => "Revisar la cama",
        NoticeKind.YearlyFeeding => "Alimentar la cama",
        NoticeKind.Spent => "Cama agotada",
        NoticeKind.StormAhead => "Aviso de temporal",
        _ => throw new ArgumentOutOfRangeException(nameof(kind), kind, null),
    };

    /// <inheritdoc/>
    public override string Headline(NoticeDraft notice) => notice switch
    {
        { Kind: NoticeKind.Water, Amount: { } litres } => $"Regar {Volume(litres)}",
        { Kind: NoticeKind.HoldWater } => "No regar: demasiado mojada",
        { Reason.Code: ReasonCode.FrostTriggers } => $"Helada el {Date(notice.Day)}: buena para esta cama",
        { Reason.Code: ReasonCode.FrostThreatens } => $"{(notice.Reason[ReasonNumber.GroundMin] > 0 ? "Noche fría" : "Helada")} el {Date(notice.Day)}: proteger la cosecha",
        { Kind: NoticeKind.HeatAhead } => $"Calor el {Date(notice.Day)}: dar sombra a la cama",
        { Kind: NoticeKind.StormAhead } => $"Temporal el {Date(notice.Day)}: sujetar la cubierta",
        { Kind: NoticeKind.ExpectPins } => $"Primordios previstos {Window(notice)}",
        { Reason.Code: ReasonCode.FlushReady } => "Buscar setas con tamaño de cosecha",
        { Kind: NoticeKind.ExpectHarvest } => $"Cosecha prevista {Window(notice)}",
        { Kind: NoticeKind.YearlyFeeding } => "Alimentar la cama: material fresco",
        _ => NameOf(notice.Kind),
    };

    private string Window(NoticeDraft notice) =>
        notice.From == notice.Until ? $"el {ShortDate(notice.Day)}" : $"del {ShortDate(notice.From)} al {ShortDate(notice.Until)}";

    /// <inheritdoc/>
    public override string ReasonFor(NoticeDraft notice)
    {
        var why = notice.Reason;
        var days = why[ReasonNumber.Days];
        var rain = Rain(why);
        return Sentence() + Compared(notice);

        string Sentence() => why.Code switch
        {
            ReasonCode.WaterLow =>
                $"Sin riego, la cama baja al {Percent(why[ReasonNumber.Moisture])} de su agua útil; hay que regar por debajo del "
                + $"{Percent(why[ReasonNumber.WaterMark])}, y {rain}{(IsDry(why) ? "" : ", que no bastan")}."
                + (why[ReasonNumber.Covered] > 0 ? " Levantar la cubierta para regar y volver a ponerla." : "")
                + (why[ReasonNumber.Goes] > 1 ? " Tan seca, la cama rechaza el agua: dar la mitad, esperar una hora y dar la otra mitad." : ""),
            ReasonCode.AirLow =>
                $"El aire ocupa solo el {Percent(why[ReasonNumber.Air])} de la capa, y el micelio necesita el {Percent(why[ReasonNumber.AirMark])} o más; "
                + $"{rain}. No regar hasta que escurra.",
            ReasonCode.SoakedAndRain =>
                $"La cama tiene el {Percent(why[ReasonNumber.Moisture])} del agua que retiene después de escurrir, y {rain}. No regar hasta que escurra.",
            ReasonCode.DryAhead => days > 0
                ? $"La cama bajaría de su límite de riego ({Percent(why[ReasonNumber.WaterMark])} de su agua útil) el {Date(notice.Day.PlusDays((int)days))}, con "
                  + $"{WaterDepth(why[ReasonNumber.RainToCome])} de lluvia en el pronóstico de la semana. La cama aún no necesita lluvia: una cubierta guarda su humedad."
                : $"La cama está al {Percent(why[ReasonNumber.Moisture])} de su agua útil, por debajo de su límite de riego ({Percent(why[ReasonNumber.WaterMark])}), con "
                  + $"{WaterDepth(why[ReasonNumber.RainToCome])} de lluvia en el pronóstico de la semana. Primero regar y después cubrir para guardar la humedad.",
            ReasonCode.RainWouldDrown =>
                $"{WaterDepth(why[ReasonNumber.RainToCome])} de lluvia en {Days(days)} dejarían aire solo en el {Percent(why[ReasonNumber.Air])} de la capa; por debajo del "
                + $"{Percent(why[ReasonNumber.AirMark])} al micelio le falta aire. Una cubierta no deja pasar la lluvia.",
            ReasonCode.ReadyToPin => days > 0
                ? $"La cama debería estar lista para dar primordios hacia el {Date(notice.Deadline)}. Destapada recibe la lluvia y el aire fresco que necesitan."
                : "La cama está lista para dar primordios. Destapada recibe la lluvia y el aire fresco que necesitan.",
            ReasonCode.FruitingUnderCover => "Los primordios y las setas necesitan aire fresco: bajo la cubierta se estiran y se pudren.",
            ReasonCode.RainForDryBed =>
                $"La cama está al {Percent(why[ReasonNumber.Moisture])} de su agua útil, su límite de riego es el {Percent(why[ReasonNumber.WaterMark])}, y "
                + $"{rain}: dejar que entre.",
            ReasonCode.FrostTriggers =>
                $"Se prevén {Temperature(why[ReasonNumber.GroundMin])} a ras de suelo. Esta especie espera {Nights(why[ReasonNumber.Nights])} "
                + $"a {Temperature(why[ReasonNumber.FrostMark])} o menos antes de dar primordios."
                + (why[ReasonNumber.Covered] > 0 ? " Quitar la cubierta la tarde anterior para que el frío llegue a la cama." : " Dejarla destapada."),
            ReasonCode.FrostThreatens =>
                $"Se prevén {Temperature(why[ReasonNumber.GroundMin])} en la cama; a {Temperature(why[ReasonNumber.FrostMark])} se pierde la cosecha. "
                + (why[ReasonNumber.Covered] > 0 ? "La cubierta no bastará: cosechar antes lo que ya tenga tamaño." : "Cubrir la cama por la noche, o cosechar antes lo que ya tenga tamaño."),
            ReasonCode.HeatOnYoungSpawn =>
                $"Se prevén {Temperature(why[ReasonNumber.Tmax])} (desde {Temperature(why[ReasonNumber.HeatMark])} cuenta como calor), y el micelio se sembró hace "
                + $"{Days(days)}. Cubrir la cama y darle sombra esa mañana a más tardar, y mantenerla húmeda según la prueba del puño.",
            ReasonCode.BedNearHarm =>
                $"La propia cama llegará a {Temperature(why[ReasonNumber.BedTemperature])}; a {Temperature(why[ReasonNumber.HarmTemperature])} el micelio retrocede. "
                + (why[ReasonNumber.Covered] > 0 ? "Dar sombra a la cubierta, levantar los bordes para que entre aire y mantener la cama húmeda." : "Dar sombra a la cama y mantenerla húmeda."),
            ReasonCode.PinsAhead =>
                $"Según la cuenta de la cama y el pronóstico, los primordios se forman hacia el {Date(notice.Day)}{ChanceOf(notice)}. "
                + "Mantener húmeda la superficie y mirar cada día desde la primera fecha.",
            ReasonCode.HarvestAhead =>
                $"Según la cuenta de la cama y el pronóstico, las primeras setas tendrán tamaño hacia el {Date(notice.Day)}{ChanceOf(notice)}.",
            ReasonCode.FlushReady => $"Ya debería haber setas con tamaño. Mirar cada día hasta el {Date(notice.Until)}.",
            ReasonCode.NothingLogged =>
                $"No se ha anotado nada de esta cama desde el {Date(notice.Day.PlusDays(-(int)days))}. Apretar un puñado, buscar micelio blanco, primordios, moho y babosas, y anotar lo que se vea.",
            ReasonCode.YearSinceFilling =>
                $"El último material fresco se puso hace {Days(days)}. Extender una capa nueva del mismo material y mojarla.",
            ReasonCode.FillingUsedUp =>
                $"La cama ha dado {Flushes(why[ReasonNumber.Flushes])}, más o menos lo que puede dar su relleno. Añadir material fresco, o usarlo como compost.",
            ReasonCode.WindLiftsCover =>
                $"Se prevé un viento medio de {WindSpeed(why[ReasonNumber.Wind])} cerca del suelo; desde {WindSpeed(why[ReasonNumber.WindMark])}, las rachas del día levantan las cubiertas. "
                + "Poner peso en los bordes, o quitar la cubierta y guardarla. No trabajar en ella mientras sopla.",
            _ => throw new ArgumentOutOfRangeException(nameof(notice), why.Code, null),
        };
    }

    /// <inheritdoc/>
    public override string By(LocalDate deadline, LocalDate today) => Period.DaysBetween(today, deadline) switch
    {
        < 0 => $"atrasado desde el {Date(deadline)}",
        0 => "hoy",
        1 => "antes de mañana por la noche",
        _ => $"hasta el {Date(deadline)}",
    };

    /// <inheritdoc/>
    public override string When(NoticeDraft notice, LocalDate today) => notice switch
    {
        { Kind: NoticeKind.HoldWater } when notice.Deadline > today => $"hasta el {Date(notice.Deadline)}",
        { Kind: NoticeKind.HoldWater } => "hoy",
        { Reason.Code: ReasonCode.FlushReady } when notice.Until > today => $"cada día hasta el {Date(notice.Until)}",
        { Reason.Code: ReasonCode.FlushReady } => "hoy",
        { NeedsEatingCaution: true } => notice.From > today ? $"mirar a partir del {Date(notice.From)}" : "mirar cada día",
        { Kind: NoticeKind.HeatAhead } when notice.Day < today => $"desde el {Date(notice.Day)}",
        { Kind: NoticeKind.FrostAhead } when notice.Deadline == today => "esta tarde",
        _ => By(notice.Deadline, today),
    };

    /// <inheritdoc/>
    public override string NameOf(NoticeConfidence confidence) => confidence switch
    {
        NoticeConfidence.Firm => "seguro",
        NoticeConfidence.Likely => "probable",
        NoticeConfidence.Possible => "posible",
        _ => throw new ArgumentOutOfRangeException(nameof(confidence), confidence, null),
    };

    /// <inheritdoc/>
    public override string Closing(NoticeEnd how, ClosingCode why) => $"{how switch
    {
        NoticeEnd.Done => "Hecho",
        NoticeEnd.Withdrawn => "Retirado",
        NoticeEnd.Lapsed => "Pasado",
        _ => throw new ArgumentOutOfRangeException(nameof(how), how, null),
    }}: {why switch
    {
        ClosingCode.Watered => "se regó",
        ClosingCode.RainCame => "llovió",
        ClosingCode.RainComing => "ahora se prevé lluvia suficiente",
        ClosingCode.MoistEnough => "la cama tiene bastante humedad",
        ClosingCode.Drained => "la cama ya escurrió",
        ClosingCode.Covered => "la cubierta está puesta",
        ClosingCode.Uncovered => "la cubierta está quitada",
        ClosingCode.PhaseChanged => "la cama ha pasado a otra fase",
        ClosingCode.ForecastChanged => "el pronóstico ha cambiado",
        ClosingCode.FrostComing => "viene una helada y la cubierta se queda puesta",
        ClosingCode.FrostCame => "llegó la helada",
        ClosingCode.DayPassed => "su día ya pasó",
        ClosingCode.PinsSeen => "se vieron primordios",
        ClosingCode.PinsByAccount => "según la cuenta ya hay primordios; nadie lo ha confirmado todavía",
        ClosingCode.Picked => "se cosechó, y la oleada terminó",
        ClosingCode.FlushOver => "según la cuenta, la oleada terminó",
        ClosingCode.FlushLost => "la oleada se perdió por helada o sequía",
        ClosingCode.AttemptFailed => "según la cuenta, los primordios no se formaron por frío, calor o sequedad",
        ClosingCode.Logged => "alguien atendió la cama",
        ClosingCode.ToppedUp => "se puso material fresco",
        ClosingCode.BedSpent => "la cama está agotada o se abandonó",
        _ => throw new ArgumentOutOfRangeException(nameof(why), why, null),
    }}.";

    /// <inheritdoc/>
    public override IReadOnlyList<string> EatingCaution(Species species) =>
    [
        "Un pronóstico nunca dice que una seta sea segura: en las camas abiertas salen otros hongos. Identificar cada seta con certeza antes de comerla.",
        .. species.Lookalikes.Select(other => other.InLanguage(Language)).Select(other =>
            $"Descartar {other.Name}. {other.Danger} Cómo distinguirla: {other.Tell}"),
        "Hacer una esporada y, en caso de duda, preguntar a una persona experta de la zona. Lo dudoso no se come.",
        "Cocinar antes de comer, y probar primero una porción pequeña.",
        .. species.Cautions.Select(caution => caution.TextIn(Language)),
        "Antes de vender o regalar lo cosechado: cumplir la normativa alimentaria local y su inspección.",
    ];

    private string ChanceOf(NoticeDraft notice) => notice.Reason.Numbers.TryGetValue(ReasonNumber.Chance, out var chance)
        ? $" (probabilidad del {Percent(chance)} hasta el {Date(notice.Until)})"
        : "";

    /// <summary>What the same futures bring with the advice followed today and without; nothing where they were not compared.</summary>
    private string Compared(NoticeDraft notice)
    {
        var why = notice.Reason;
        if (!why.Numbers.ContainsKey(ReasonNumber.OutcomeCounts))
            return "";
        var (alone, acted) = notice.Kind switch
        {
            NoticeKind.CoverOff => ("Si sigue tapada", "destapándola hoy"),
            NoticeKind.CoverOn => ("Si sigue destapada", "tapándola hoy"),
            _ => ("Si no se riega", "regándola hoy"),
        };
        var days = why[ReasonNumber.ChanceDays];
        if ((WhatCounts)why[ReasonNumber.OutcomeCounts] is WhatCounts.Moisture)
            return $" {alone}, estará demasiado seca o mojada unos {Number(why[ReasonNumber.BadDaysAlone], 1)} de los próximos {Days(days + 1)}; {acted}, unos {Number(why[ReasonNumber.BadDaysActed], 1)}.";
        var what = (WhatCounts)why[ReasonNumber.OutcomeCounts] is WhatCounts.Pins ? "primordios" : "cosecha";
        return $" Probabilidad de {what} hasta el {Date(notice.Day.PlusDays((int)days))}: {alone.ToLowerInvariant()}, {Percent(why[ReasonNumber.ChanceAlone])}; {acted}, {Percent(why[ReasonNumber.ChanceActed])}.";
    }

    private string Rain(NoticeReason why) => IsDry(why)
        ? $"apenas se prevé lluvia en {Days(why[ReasonNumber.Days])}"
        : $"se prevén {WaterDepth(why[ReasonNumber.RainToCome])} de lluvia en {Days(why[ReasonNumber.Days])}";

    private string Days(double days) => $"{Number(days)} {(days == 1 ? "día" : "días")}";

    private string Nights(double nights) => $"{Number(nights)} {(nights == 1 ? "noche" : "noches")}";

    private string Flushes(double flushes) => $"{Number(flushes)} {(flushes == 1 ? "oleada" : "oleadas")}";
}
