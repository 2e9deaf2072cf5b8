using FruitWatch.Service.Weather;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string SilenceSubject(string feed) => $"Sin datos del tiempo de {feed}";

    public override string SilenceGreeting(string name) => $"Hola, {name}.";

    public override string SilenceSummary(string feed, int sites, LocalDateTime since) =>
        $"La fuente {feed} no ha dado nada útil desde el {Date(since.Date)} a las {Clock(since)}, para {(sites == 1 ? "un sitio" : $"{Number(sites)} sitios")}.";

    public override string SilenceSince(LocalDateTime lastGood) => $"Última respuesta buena: {Date(lastGood.Date)}, {Clock(lastGood)}.";

    public override string SilenceNever(LocalDateTime firstTried) =>
        $"Aún ninguna respuesta buena; se le pregunta desde el {Date(firstTried.Date)}, {Clock(firstTried)}.";

    public override string SilenceReason(string problem) => problem.Length > 0 ? $"Motivo, como lo anotó el programa en inglés: {problem}" : "El motivo no se conoce.";

    public override string SilenceMeaning(FeedSlot slot, LocalDateTime? forecastOf) => (slot, forecastOf) switch
    {
        (FeedSlot.Forecast, { } of) => $"Para las camas: los consejos siguen el último pronóstico, del {Date(of.Date)} a las {Clock(of)}, y cada día son menos seguros. Conviene mirar también el cielo.",
        (FeedSlot.Forecast, null) => "Para las camas: no hay pronóstico, así que nada se puede decir de los próximos días.",
        (_, not null) => "Para las camas: los días pasados se toman de pronósticos anteriores hasta que vuelva a responder. Lo primero que falla es la lluvia: lo que más ayuda son las lecturas de un pluviómetro propio.",
        _ => "Para las camas: los días pasados se completan con lo habitual hasta que vuelva a responder. Lo que más ayuda son las lecturas de un pluviómetro propio.",
    };

    public override string SilenceToDo(FeedStanding state) => state switch
    {
        FeedStanding.Asked => "Decir si las unidades de la fuente son correctas, o corregir su descripción. Hasta entonces la respuesta queda retenida.",
        FeedStanding.Waiting => "Cambiar lo que nombra el motivo: la clave, la dirección, la estación o la descripción. No se arregla sola; se prueba una vez al día.",
        _ => "Nada por ahora: se le vuelve a preguntar sin más. Si dura, escribir al proveedor o elegir otra fuente.",
    };

    public override string SilenceMoreSites(int more) => $"Y {Number(more)} sitios más.";

    public override string SilenceWhyYou(string cooperative) => $"Recibes esto porque cuidas de las fuentes del tiempo de {cooperative}, o nadie más lo hace.";

    public override string SilenceOnce => "Se avisa una sola vez. La primera página muestra cuándo vuelve a responder.";

    protected override string SilenceHeld(string feed) => $"{feed}: su respuesta queda retenida hasta que alguien diga si sus unidades son correctas.";

    protected override string SilenceOnPage(string feed, string since, bool everGood) =>
        everGood ? $"{feed}: nada útil desde {since}." : $"{feed}: aún ninguna respuesta buena, se le pregunta desde {since}.";

    protected override string SilenceWaiting(string feed) => $"{feed}: espera a que alguien cambie algo.";

    public override string SilenceOpenFeeds => "Abrir las fuentes del tiempo";
}
