using System.Globalization;
using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string OwnName => "Español";

    public override string SkipToContent => "Ir al contenido";

    public override string Navigation => "Principal";

    public override string ToToday => "Hoy";

    public override string ToNotices => "Avisos";

    public override string ToMail => "Correo";

    public override string FooterSafety => "Un pronóstico nunca dice que una seta sea segura. Identificar cada seta con certeza antes de comerla.";

    public override string DemoTitle => "Demostración";

    public override string DemoDay(LocalDate day) =>
        $"Demostración con una cooperativa inventada. Es el {Date(day)} de {day.Year.ToString(CultureInfo.InvariantCulture)}.";

    public override string DemoStep(int mornings) => mornings switch { 1 => "Mañana siguiente", 7 => "Semana siguiente", _ => "Mes siguiente" };

    public override string TodayTitle(LocalDate today) => $"Hoy, {Date(today)}";

    public override string NoSitesYet => "Todavía no hay ningún sitio. Se crea a través de la API web.";

    public override string NoBedsYet => "Todavía no hay ninguna cama en este sitio.";

    public override string NothingToDoToday => "Hoy no hay nada que hacer.";

    public override string NothingToDoHere => "Nada que hacer en esta cama.";

    public override string ComingUp => "Próximamente";

    public override string LastRound(LocalDateTime at, LocalDate today) => $"Última ronda de la mañana: {When(at, today)}";

    public override string NoRoundYet => "Aún sin ronda de la mañana";

    public override string When(LocalDateTime at, LocalDate today) =>
        at.Date == today ? $"hoy, {Clock(at)}" : $"{DateWithYear(at.Date, today)}, {Clock(at)}";

    public override string DateWithYear(LocalDate date, LocalDate today) =>
        date.Year == today.Year ? date.ToString("ddd d 'de' MMMM", Culture) : date.ToString("d 'de' MMMM 'de' uuuu", Culture);

    public override string WeatherAt(string site) => $"Tiempo en {site}";

    public override string StandsWithoutForecast => "Sin pronóstico: las camas están como en el último día conocido.";

    public override string StaleForecast(int hours) => $"El pronóstico tiene {Number(hours)} horas.";

    public override string ForecastIssued(string feed, LocalDateTime at, LocalDate today) =>
        feed.Length > 0 ? $"Pronóstico de {feed}, {When(at, today)}." : $"Pronóstico: {When(at, today)}.";

    public override string NameOf(Pages.Urgency urgency) => urgency switch
    {
        Pages.Urgency.Overdue => "Atrasado",
        Pages.Urgency.Now => "Hoy",
        Pages.Urgency.Soon => "Pronto",
        _ => "Más tarde",
    };

    public override string NameOf(Pages.MoistureWord moisture) => moisture switch
    {
        Pages.MoistureWord.Dry => "seca",
        Pages.MoistureWord.Moist => "húmeda",
        _ => "mojada",
    };

    public override string WaterShare(double wetBasis) => $"{Percent(wetBasis)} de agua";

    public override string ScoreTitle => "Puntuación";

    public override string ScoreSaid(Phase phase, string? limit) => limit ?? phase switch
    {
        Phase.Ready or Phase.Pinning => "todo favorece los primordios",
        Phase.Growing or Phase.Picking => "todo favorece la oleada",
        _ => "el día favorecería los primordios",
    };

    public override string NextPins => "Próximos primordios";

    public override string NextHarvest => "Cosecha";

    public override string LastLogged => "Última anotación";

    public override string NoneForecast => "no dentro del pronóstico";

    public override string Window(LocalDate from, LocalDate? until) =>
        until is { } last ? from == last ? Date(from) : $"del {ShortDate(from)} al {ShortDate(last)}" : $"hacia el {ShortDate(from)}";

    public override string CheckLookalikes(Species species) => $"{NameOf(species)}: antes de comer, descartar las parecidas";

    public override string ProblemOf(AccountProblem problem) => problem switch
    {
        AccountProblem.NoWeather => "Todavía sin cuenta: no se sabe nada del tiempo en este sitio.",
        AccountProblem.WeatherStartsLater => "Sin cuenta: el tiempo conocido empieza después de hacer la cama. Hay que traer el tiempo pasado del sitio.",
        AccountProblem.NotYetMade => "La cama se hará después del final del pronóstico.",
        _ => "Sin cuenta de hoy: el tiempo conocido termina antes.",
    };

    public override string BedMade(LocalDate on, double areaM2) =>
        $"{Area(areaM2)}, hecha el {ShortDate(on)} de {on.Year.ToString(CultureInfo.InvariantCulture)}.";

    public override string LayerOf(Material material, double depth) => $"{NameOf(material)}, {Number(100 * depth)}\u00a0cm";

    public override string HowItStands(LocalDate today) => $"Cómo está, {Date(today)}";

    public override string WaterFrom(double mark) => $"regar por debajo del {Percent(mark)}";

    public override string FlushesSoFar => "Oleadas hasta ahora";

    public override string Sureness(NoticeConfidence confidence) => $"Certeza: {NameOf(confidence)}";

    public override string MailTitle => "Correo";

    public override string MailLead => "Qué se envió y a quién, lo último primero.";

    public override string NoMailYet => "Todavía no se ha escrito ningún correo.";

    public override string To(string name, string address) => $"Para {name} ({address})";

    public override string NameOf(MailState state) => state switch
    {
        MailState.Pending => "en espera",
        MailState.Sending => "enviándose",
        MailState.Sent => "enviado",
        MailState.Unconfirmed => "enviado, sin confirmar",
        MailState.Failed => "rechazado",
        _ => "demasiado tarde",
    };

    public override string MomentUtc(Instant moment) =>
        $"{moment.InUtc().Date.ToString("d 'de' MMMM 'de' uuuu", Culture)}, {Clock(moment.InUtc().LocalDateTime)} UTC";

    public override string MailAsHtml => "Con formato";

    public override string MailAsText => "Como texto sin formato";

    public override string MailNoLongerKept => "Lo que decía ya no se guarda: se olvida a los 90 días.";

    public override string Older => "Anteriores";

    public override string NoticesTitle => "Avisos";

    public override string NoticesLead => "Todo lo que se avisó, lo último primero, y en qué quedó.";

    public override string NoNotices => "No hay ninguno.";

    public override string FilterTitle => "Qué avisos";

    public override string AllOfThem => "todos";

    public override string NameOf(NoticeState state) => state switch
    {
        NoticeState.Open => "abierto",
        NoticeState.Done => "hecho",
        NoticeState.Withdrawn => "retirado",
        _ => "pasado",
    };

    public override string IssuedOn(LocalDate day) => $"avisado el {ShortDate(day)}";

    public override string ClosedOn(LocalDate day) => $"terminado el {ShortDate(day)}";

    public override string NotFoundTitle => "Aquí no hay nada";

    public override string NotFoundAdvice => "Puede que la dirección esté mal escrita o que la cama ya no se vigile.";

    public override string RefusedTitle => "No se pudo aceptar";

    public override string RefusedAdvice =>
        "No se cambió nada. Puede que la página llevara demasiado tiempo abierta: volver, cargarla de nuevo y enviarla otra vez.";

    public override string BrokenTitle => "Algo falló";

    public override string BrokenAdvice =>
        "Nada de lo guardado se ha perdido. Intentarlo de nuevo; si sigue igual, dar este número a quien opera el servicio:";

    public override string BackToToday => "A la lista de hoy";
}
