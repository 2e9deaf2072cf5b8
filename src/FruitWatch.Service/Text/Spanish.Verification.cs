using FruitWatch.Model.Verification;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string VerificationLink => "Pronósticos";

    public override string VerificationTitle => "Qué tal fueron los pronósticos";

    public override string VerificationLead =>
        "Cada pronóstico de primordios se guarda y se compara con lo anotado: primordios, o una revisión que no encontró ninguno. "
        + "Estas cifras juzgan pronósticos, nunca setas.";

    public override string VerificationLeads => "Con cuánta antelación";

    public override string VerificationWithin(int days) => $"En {Number(days)} días";

    public override string VerificationNoneKept => "Aún no se ha guardado ningún pronóstico. Cada mañana se guarda uno por cama.";

    public override string VerificationBySpecies => "Por especie";

    public override string VerificationBySite => "Por lugar";

    public override string VerificationByBed => "Por cama";

    public override string VerificationAnswered => "Pronósticos con respuesta";

    public override string VerificationPins => "Seguidos de primordios";

    public override string VerificationHits => "Aciertos";

    public override string VerificationMisses => "Omisiones";

    public override string VerificationFalseAlarms => "Falsas alarmas";

    public override string VerificationLeadTime => "Primer aviso";

    public override string VerificationOverCalendar => "Mejora sobre el calendario";

    public override string VerificationOverRule => "Mejora sobre la regla práctica";

    public override string VerificationTooEarly => "demasiado pronto";

    public override string VerificationDays(double days) => $"{Number(days)} {(Math.Round(days, MidpointRounding.AwayFromZero) == 1 ? "día" : "días")}";

    public override string VerificationHowToRead => "Cómo leer estas cifras";

    public override IReadOnlyList<(string Term, string Meaning)> VerificationTerms =>
    [
        (VerificationAnswered, "Pronósticos de mañanas en que la cama esperaba primordios, si el registro muestra después si salieron a tiempo. Las revisiones sin primordios cuentan tanto como los primordios: anótelas también, o solo se juzgarán las mañanas cercanas a ellos."),
        (VerificationHits, "La probabilidad era de al menos el 50\u00a0% y salieron primordios a tiempo."),
        (VerificationMisses, "La probabilidad era menor del 50\u00a0% y salieron primordios a tiempo."),
        (VerificationFalseAlarms, "La probabilidad era de al menos el 50\u00a0% y no salieron primordios a tiempo."),
        (VerificationLeadTime, "Tiempo medio entre el primer aviso que no se retiró y los primordios."),
        (VerificationOverCalendar, "1 es perfecto; 0, no mejor que saber cada cuánto salen primordios en esa época del año en este lugar; por debajo de 0, peor."),
        (VerificationOverRule, $"Lo mismo frente a la regla práctica: los primordios están cerca si en los últimos siete días cayeron al menos {WaterDepth(25)} de lluvia y su temperatura media fue de {BareTemperature(13)}–{Temperature(24)}."),
        ("Fiabilidad", "De los pronósticos que decían 30\u00a0%, unos 3 de cada 10 deberían ir seguidos de primordios. Puntos por encima de la línea: salieron más a menudo de lo dicho; por debajo: menos."),
    ];

    public override string VerificationChart => "Lo dicho y lo cumplido";

    public override string VerificationChartSaid(int cases, ReliabilityClass? fullest) => fullest is { MeanChance: { } chance, Frequency: { } share, Cases: var n }
        ? $"{Number(cases)} pronósticos según su probabilidad de primordios. De los {Number(n)} que decían cerca del {Percent(chance)}, el {Percent(share)} fue seguido de primordios."
        : $"{Number(cases)} pronósticos según su probabilidad de primordios; todos decían menos del {Percent(0.1)}.";

    public override string VerificationAsSaid => "Salen tan a menudo como se dijo";

    public override string VerificationCame => "Pronósticos, mayor cuantos más son";

    public override string VerificationChance => "Probabilidad dicha";

    public override string VerificationFollowed => "Seguidos de primordios";

    public override string VerificationForecasts => "Pronósticos";

    protected override string SaidTooEarly(int cases, int enough) =>
        $"Es demasiado pronto para saberlo: {Number(cases)} {(cases == 1 ? "pronóstico tiene" : "pronósticos tienen")} respuesta hasta ahora y hacen falta {Number(enough)}.";

    protected override string SaidLikely(int forecasts, int followed, int lead) => forecasts == 0
        ? $"Ningún pronóstico dijo que hubiera primordios probables en {Number(lead)} días."
        : $"De {Forecasts(forecasts)} que daban primordios por probables en {Number(lead)} días, {Number(followed)} {(followed == 1 ? "fue seguido" : "fueron seguidos")} de ellos.";

    protected override string SaidUnlikely(int forecasts, int followed) => forecasts == 0
        ? "Ninguno los dio por improbables."
        : $"De {Forecasts(forecasts)} que los daban por improbables, {Number(followed)} {(followed == 1 ? "fue seguido" : "fueron seguidos")} de primordios de todos modos.";

    protected override string SaidLeadTime(double days, int events) =>
        $"Los primordios anunciados tuvieron su primer aviso {VerificationDays(days)} antes de media ({Number(events)} {(events == 1 ? "vez" : "veces")}).";

    protected override string SaidAgainstCalendar(CountedScore skill) => skill.Value is not { } value
        ? "Aún faltan otras temporadas para decir qué es lo habitual en esta época del año."
        : $"Los pronósticos fueron {Than(value)} el calendario (mejora {VerificationSkill(value)}, {Forecasts(skill.Cases)}).";

    protected override string SaidAgainstRule(CountedScore skill, ScoreRange? range) => skill.Value is not { } value
        ? "La regla práctica nunca falló aquí, o no se conocía: no hay con qué comparar."
        : $"Fueron {Than(value)} la regla práctica (mejora {VerificationSkill(value)}, {Forecasts(skill.Cases)}"
            + (range is { } r ? $"; con otras temporadas, entre {VerificationSkill(r.Low)} y {VerificationSkill(r.High)})." : ").");

    protected override string SaidUnanswered(int forecasts) =>
        $"{Forecasts(forecasts)} {(forecasts == 1 ? "no tiene" : "no tienen")} respuesta: nadie anotó primordios ni una revisión que no los encontrara.";

    private static string Than(double skill) => skill > SaidEven ? "mejores que" : skill < -SaidEven ? "peores que" : "más o menos como";

    private string Forecasts(int count) => $"{Number(count)} {(count == 1 ? "pronóstico" : "pronósticos")}";
}
