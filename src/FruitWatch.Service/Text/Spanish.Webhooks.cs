using FruitWatch.Service.Webhooks;
using FruitWatch.Store;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string WebhooksTitle => "Webhooks";

    public override string WebhooksLead => "Direcciones de programas que reciben aviso cuando aquí pasa algo. Cada mensaje va firmado; lleva claves, y lo que significan se lee por la API.";

    public override string WebhooksNone => "Todavía no se avisa a ningún programa.";

    public override string WebhooksNew => "Añadir un webhook";

    public override string WebhooksName => "Nombre";

    public override string WebhooksAddress => "Dirección";

    public override string WebhooksAddressSaid => "Empieza por https:// y se alcanza en internet abierto.";

    public override string WebhooksEvents => "Avisar cuando";

    public override string WebhooksAdd => "Añadir";

    public override string WebhooksSave => "Guardar";

    public override string WebhooksActive => "Recibe avisos";

    public override string WebhooksOff => "apagado";

    public override string WebhooksOn => "encendido";

    public override string WebhooksFull => "Ya hay 20 webhooks, el máximo posible. Primero hay que borrar uno.";

    public override string WebhooksSecret => "Su secreto";

    public override string WebhooksSecretOnce => "Cópialo ahora: no se vuelve a mostrar. El receptor lo necesita para ver que un mensaje viene de aquí.";

    public override string WebhooksRotate => "Crear un secreto nuevo";

    public override string WebhooksRotateSaid => "Durante 24 horas los mensajes se firman con los dos, el nuevo y el anterior.";

    public override string WebhooksTest => "Enviar una prueba";

    public override string WebhooksTested => "Hay una prueba en camino. Aparece abajo en menos de un minuto.";

    public override string WebhooksNotTested => "No se ha enviado ninguna prueba: el webhook está apagado, o la última prueba sigue esperando.";

    public override string WebhooksDelete => "Borrar este webhook";

    public override string WebhooksDeleted => "El webhook está borrado.";

    public override string WebhooksSaved => "Guardado.";

    public override string WebhooksResend => "Enviar otra vez";

    public override string WebhooksResent => "Se envía otra vez, con el mismo identificador.";

    public override string WebhooksNotResent => "No se puede enviar otra vez: el webhook está apagado, el mensaje está en camino o tiene más de 30 días.";

    public override string WebhooksDeliveries => "Mensajes";

    public override string WebhooksNoDeliveries => "Aún no se le ha enviado nada.";

    public override string WebhooksBody => "Lo que se envió";

    public override string WebhooksBodyGone => "Lo enviado se guarda 30 días.";

    public override string WebhooksChange => "Cambiarlo";

    public override string WebhooksGiveName => "Dale un nombre de hasta 80 caracteres.";

    public override string WebhooksGiveEvents => "Elige al menos una cosa que avisar.";

    public override string WebhooksNotTaken => "No se ha cambiado nada:";

    public override string WebhooksMade => "Creado";

    public override string WebhooksOpen => "Abrir el webhook";

    public override string WebhooksStoppedToDo => "Lo que esperaba figura como fallido y se puede enviar otra vez. Corrige la dirección o el programa, y vuelve a encender el webhook.";

    public override string WebhooksFailingSince(string when) => $"No llega nada desde {when}.";

    public override string WebhooksBothUntil(string when) => $"Firmado también con el secreto anterior hasta {when}.";

    public override string WebhooksAttempts(int count) => count == 1 ? "1 intento" : $"{Number(count)} intentos";

    public override string WebhooksNextTry(string when) => $"se reintenta {when}";

    public override string WebhooksStoppedSubject(string name) => $"Se ha detenido el webhook {name}";

    public override string WebhooksWhyYou(string cooperative) => $"Recibes esto porque coordinas {cooperative}.";

    public override string WebhooksStoppedWhy(string why) => why == WebhookStopping.Gone
        ? "Su receptor contestó que no quiere más mensajes (410), así que ya no se le envía nada."
        : "En cinco días no ha llegado nada, así que ya no se le envía nada.";

    public override string NameOf(DeliveryState state) => state switch
    {
        DeliveryState.Pending => "en espera",
        DeliveryState.Sending => "en camino",
        DeliveryState.Delivered => "entregado",
        _ => "fallido",
    };

    public override string Explain(AddressRefusal wrong) => wrong switch
    {
        AddressRefusal.NotHttps => "Empieza la dirección por https://.",
        AddressRefusal.TooMuchInIt => "Quita el usuario, la contraseña y la parte detrás de #.",
        AddressRefusal.NotPublic => "La dirección no está en internet abierto. Una de la red propia la tiene que permitir quien opera el servicio.",
        AddressRefusal.OtherPort => "Quita el puerto, o pide a quien opera el servicio que lo permita con host y puerto.",
        _ => "Escribe una dirección como https://example.org/hook, de hasta 500 caracteres.",
    };

    public override string WebhooksEvent(string name) => name switch
    {
        WebhookEvents.NoticeOpened => "se abre un aviso",
        WebhookEvents.NoticeChanged => "cambia un aviso",
        WebhookEvents.NoticeClosed => "termina un aviso",
        WebhookEvents.LogEntryMade => "se anota algo en el registro",
        WebhookEvents.LogEntryUndone => "se deshace una anotación",
        WebhookEvents.BedMade => "se crea una cama",
        WebhookEvents.BedChanged => "se cambia una cama",
        WebhookEvents.RoundDone => "termina la ronda de la mañana de un sitio",
        WebhookEvents.Test => "una prueba",
        _ => name,
    };

    public override string WebhooksError(string code, int? status) => code switch
    {
        DeliveryErrors.Status => $"contestó con el estado {status}",
        DeliveryErrors.Gone => "no quiere más mensajes (410)",
        DeliveryErrors.Redirect => $"remite a otro sitio ({status}), y eso no se sigue",
        DeliveryErrors.Timeout => "sin respuesta en 20 segundos",
        DeliveryErrors.NoSuchHost => "no existe ese host",
        DeliveryErrors.Blocked => "el host no está en internet abierto",
        DeliveryErrors.Tls => "su certificado no vale",
        DeliveryErrors.SecretLost => "ya no se puede leer su secreto; crea uno nuevo",
        DeliveryErrors.Stopped => "esperaba cuando se apagó el webhook",
        _ => "no se puede alcanzar",
    };
}
