using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Digests;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    /// <inheritdoc/>
    public override string Gist(NoticeDraft notice, string beds, LocalDate today)
    {
        var when = notice.Deadline <= today ? " hoy" : "";
        return notice switch
        {
            { Kind: NoticeKind.Water } => $"regar {beds}{when}",
            { Kind: NoticeKind.HoldWater } => $"no regar {beds}",
            { Kind: NoticeKind.CoverOn } => $"cubrir {beds}{when}",
            { Kind: NoticeKind.CoverOff } => $"destapar {beds}{when}",
            { Reason.Code: ReasonCode.FrostTriggers } => $"helada buena para {beds}",
            { Kind: NoticeKind.FrostAhead } => $"la helada amenaza a {beds}",
            { Kind: NoticeKind.HeatAhead } => $"dar sombra a {beds}{when}: calor",
            { Kind: NoticeKind.StormAhead } => $"sujetar la cubierta de {beds}{when}: temporal",
            { Kind: NoticeKind.ExpectPins } => $"primordios pronto en {beds}",
            { Reason.Code: ReasonCode.FlushReady } => $"cosechar {beds}",
            { Kind: NoticeKind.ExpectHarvest } => $"cosecha pronto en {beds}",
            { Kind: NoticeKind.WeeklyCheck } => $"revisar {beds}",
            { Kind: NoticeKind.YearlyFeeding } => $"alimentar {beds}",
            { Kind: NoticeKind.Spent } => $"{beds}: relleno agotado",
            _ => throw new ArgumentOutOfRangeException(nameof(notice), notice.Kind, null),
        };
    }

    /// <inheritdoc/>
    public override string AndMore(string bed, int more) => $"{bed} y {Number(more)} más";

    /// <inheritdoc/>
    public override string More(int count) => $"{Number(count)} más";

    /// <inheritdoc/>
    public override string NoLongerNeededGist(NoticeKind kind, string bed) => $"ya no hace falta: {NameOf(kind).ToLower(Culture)} ({bed})";

    /// <inheritdoc/>
    public override string NothingToDo => "hoy no hay nada que hacer";

    /// <inheritdoc/>
    public override string NothingNew(int open) => $"hoy nada nuevo; {Number(open)} {(open == 1 ? "pendiente" : "pendientes")}";

    /// <inheritdoc/>
    public override string BedsWatched(int beds) => $"{Beds(beds)} en observación";

    /// <inheritdoc/>
    public override string NothingKnown => "aún no hay datos del tiempo para tus camas";

    /// <inheritdoc/>
    public override string ForecastIsOld(Duration age) => $"el pronóstico es de hace {Age(age)}";

    /// <inheritdoc/>
    public override string OldForecast(Duration age, string feed, LocalDateTime since) =>
        $"El pronóstico es de hace {Age(age)}, porque {(feed.Length > 0 ? feed : "la fuente")} no ha dado otro más nuevo desde el "
        + $"{Date(since.Date)} a las {since.ToString("HH:mm", Culture)}. Mirar también el cielo antes de actuar.";

    /// <inheritdoc/>
    public override string NoForecastGist => "sin pronóstico para tus camas";

    /// <inheritdoc/>
    public override string NoForecast =>
        "No hay pronóstico para este sitio, así que aquí nada mira hacia adelante. Mirar el cielo y preguntar a coordinación por la fuente del tiempo.";

    /// <inheritdoc/>
    public override string Greeting(string name, bool late) => late ? $"Hola, {name}." : $"Buenos días, {name}.";

    /// <inheritdoc/>
    public override string ComesLate => "La lista de hoy llega más tarde de lo debido.";

    /// <inheritdoc/>
    public override string Counts(int toDo, int coming, int open, int noLongerNeeded, bool known)
    {
        var counts = new List<string>();
        if (toDo > 0)
            counts.Add($"{Number(toDo)} por hacer");
        if (coming > 0)
            counts.Add($"{Number(coming)} por venir");
        if (open > 0)
            counts.Add($"{Number(open)} {(open == 1 ? "pendiente" : "pendientes")}");
        if (noLongerNeeded > 0)
            counts.Add($"{Number(noLongerNeeded)} que ya no {(noLongerNeeded == 1 ? "hace" : "hacen")} falta");
        return (toDo == 0 ? (known ? "Hoy no hay nada nuevo que hacer" : "Nada nuevo que hacer, que se sepa") + (counts.Count > 0 ? ": " : "") : "") + List(counts) + ".";
    }

    /// <inheritdoc/>
    public override string NothingHere(bool known) => known ? "Aquí no hay nada nuevo que hacer hoy." : "Aquí no hay nada nuevo que hacer, que se sepa.";

    /// <inheritdoc/>
    public override string ToDo => "Por hacer";

    /// <inheritdoc/>
    public override string Coming => "Por venir";

    /// <inheritdoc/>
    public override string StillOpen => "Todavía pendiente";

    /// <inheritdoc/>
    public override string NoLongerNeeded => "Ya no hace falta";

    /// <inheritdoc/>
    public override string BedByBed => "Cama por cama";

    /// <inheritdoc/>
    public override string NextDays => "Los próximos días";

    /// <inheritdoc/>
    public override string BeforeEating => "Antes de comerlas";

    /// <inheritdoc/>
    public override string NameOf(Urgency urgency) => urgency switch
    {
        Urgency.AtOnce => "Urgente",
        Urgency.Today => "Hoy",
        Urgency.Soon => "Pronto",
        Urgency.Ahead => "Previsto",
        _ => throw new ArgumentOutOfRangeException(nameof(urgency), urgency, null),
    };

    /// <inheritdoc/>
    public override string Changed => "ha cambiado";

    /// <inheritdoc/>
    public override string HowSure(NoticeConfidence confidence) => $"aviso {NameOf(confidence)}";

    /// <inheritdoc/>
    public override string WindowEnds(LocalDate day) => $"El plazo termina el {Date(day)}";

    /// <inheritdoc/>
    public override string ToldOn(LocalDate day) => $"avisado el {ShortDate(day)}";

    /// <inheritdoc/>
    public override string EatingCautionInShort(Species species) =>
        "Ningún pronóstico dice que una seta sea segura. Identificar cada una con certeza, descartar "
        + $"{Lookalikes(species)}, hacer una esporada y, en caso de duda, preguntar a una persona experta de la zona. Cocinar antes de comer, "
        + "y probar primero una porción pequeña.";

    /// <inheritdoc/>
    public override string Weather(double? tmin, double? tmax, double? rain, bool estimated) =>
        (tmin, tmax) switch
        {
            ({ } low, { } high) => $"de {BareTemperature(low)} a {Temperature(high)}",
            (null, { } high) => $"hasta {Temperature(high)}",
            ({ } low, null) => $"mínima de {Temperature(low)}",
            _ => "temperatura desconocida",
        }
        + (rain is { } mm ? mm < 0.05 ? ", sin lluvia" : $", {WaterDepth(mm)} de lluvia" : ", lluvia desconocida")
        + (estimated ? " (estimado)" : "");

    /// <inheritdoc/>
    public override string Today => "Hoy";

    /// <inheritdoc/>
    public override string DayInList(LocalDate date) => date.ToString("ddd d", Culture);

    /// <inheritdoc/>
    public override string PhaseOf(AccountDay state) => state.Phase switch
    {
        Phase.SpawnRun => $"{NameOf(state.Phase)}, {Percent(state.SpawnRun)} hecho",
        Phase.Ready or Phase.Spent => NameOf(state.Phase),
        _ => $"{NameOf(state.Phase)}, al {Percent(state.Progress)}",
    };

    /// <inheritdoc/>
    public override string Score(double score, string? limit) => $"puntuación {Number(score)} de 100{(limit is null ? "" : $", {limit}")}";

    /// <inheritdoc/>
    public override string MoistureOf(double moisture) => $"humedad {Percent(moisture)}";

    /// <inheritdoc/>
    public override string NoAccount(AccountProblem problem) => problem switch
    {
        AccountProblem.NoWeather => "sin datos todavía: no se sabe nada del tiempo en el sitio",
        AccountProblem.WeatherStartsLater => "sin datos: la cama es anterior al tiempo conocido; su fuente debe dar días anteriores",
        AccountProblem.NotYetMade => "aún no se ha hecho",
        _ => "sin datos hoy",
    };

    /// <inheritdoc/>
    public override string BedsLeftOut => "La lista de todas las camas es demasiado larga para un correo; está en la página.";

    /// <inheritdoc/>
    public override string OpenThePage => "Abrir la página de hoy";

    /// <inheritdoc/>
    public override string WhyYouGetThis(string cooperative, IReadOnlyList<string> sites) =>
        $"Recibes esto porque {cooperative} te apuntó para {List(sites)}. Como mucho un mensaje así al día.";

    /// <inheritdoc/>
    public override string RepliesAreNotRead(string cooperative) =>
        $"Lo escribe un programa y nadie lee las respuestas. Para cambiarlo o dejar de recibirlo, preguntar a {cooperative}.";

    // "e" before the sound i: Ana e Inés.
    /// <inheritdoc/>
    public override string WrittenByAProgram => "Lo escribe un programa y nadie lee las respuestas.";

    /// <inheritdoc/>
    public override string ToldInPlaceOf(IReadOnlyList<string> names) => $"También dice lo que se diría a {List(names)}, en cuyo lugar estás mientras dure su ausencia.";

    /// <inheritdoc/>
    public override string MailWishes => "Elegir qué se te dice y cuándo";

    /// <inheritdoc/>
    public override string StopDigests => "Dejar de recibir el correo de la mañana";

    /// <inheritdoc/>
    public override string UrgentTitle => "Esto no puede esperar";

    /// <inheritdoc/>
    public override string UrgentSummary => "Esto surgió fuera del correo de la mañana.";

    /// <inheritdoc/>
    public override string TakenBackTitle => "Ya no es urgente";

    /// <inheritdoc/>
    public override string TakenBackSummary => "El pronóstico ha cambiado: lo que un correo anterior llamó urgente ya no hace falta.";

    /// <inheritdoc/>
    public override string WhyYouGetUrgent(string cooperative) =>
        $"Recibes esto porque cuidas camas de {cooperative} y algo no puede esperar hasta la mañana. Como mucho tres mensajes así al día.";

    /// <inheritdoc/>
    public override string StopUrgent => "Dejar de recibir mensajes urgentes";

    /// <inheritdoc/>
    protected override string And(string next) =>
        next.StartsWith('i') || next.StartsWith('I') || next.StartsWith('í') || next.StartsWith('Í')
        || (next.StartsWith("hi", StringComparison.OrdinalIgnoreCase) && !next.StartsWith("hie", StringComparison.OrdinalIgnoreCase)) ? " e " : " y ";

    private string Lookalikes(Species species) => List([.. species.Lookalikes.Select(other => other.InLanguage(Language).Name)]);

    private string Beds(int beds) => $"{Number(beds)} {(beds == 1 ? "cama" : "camas")}";

    private string Age(Duration age) => age < Duration.FromHours(48)
        ? $"{Number(Math.Floor(age.TotalHours))} horas"
        : $"{Number(Math.Floor(age.TotalDays))} días";
}
