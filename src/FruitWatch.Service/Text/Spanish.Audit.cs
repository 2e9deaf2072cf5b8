namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string AuditTitle => "Historial de cambios";

    public override string AuditLead => "Quién cambió qué, lo último primero. Se guarda dos años; nadie puede cambiarlo.";

    public override string AuditNone => "No hay nada anotado que encaje.";

    public override string AuditPerson => "Persona";

    public override string AuditAnybody => "cualquiera";

    public override string AuditSubjectLabel => "Sobre";

    public override string AuditAnything => "cualquier cosa";

    public override string AuditSince => "Desde";

    public override string AuditShow => "Mostrar";

    public override string AuditService => "el servicio";

    public override string AuditWhen => "Cuándo (UTC)";

    public override string AuditWho => "Quién";

    public override string AuditWhat => "Qué";

    public override string AuditDetails => "Detalles";

    public override string AuditNewText => "cambiado";

    public override string AuditGone(long key) => $"alguien que ya no está ({key})";

    public override string AuditVia(string via) => via.Split(':') switch
    {
        ["session"] => "con sesión",
        ["token", var key] => $"token {key}",
        ["link", var key] => $"enlace personal {key}",
        ["terminal"] => "terminal",
        ["demo"] => "demo",
        _ => "sin sesión",
    };

    public override string AuditSubject(string subject) => subject switch
    {
        "cooperative" => "Cooperativa",
        "site" => "Sitio",
        "bed" => "Cama",
        "log-entry" => "Anotación",
        "feed" => "Fuente del tiempo",
        "person" => "Persona",
        "person-site" => "Sitio de una persona",
        "person-bed-left-out" => "Cama de la que no se avisa a una persona",
        "bed-grower" => "Responsable de una cama",
        "invitation" => "Invitación",
        "personal-link" => "Enlace personal",
        "calendar" => "Calendario",
        "mail-deed" => "Dicho desde un correo",
        "token" => "Token",
        "webhook" => "Webhook",
        "sign-in" => "Inicio de sesión",
        "account" => "Cuenta",
        "password" => "Contraseña",
        "passkey" => "Llave de acceso",
        "second-factor" => "Segundo factor",
        "email" => "Dirección de correo",
        "mail" => "Correo",
        _ => subject,
    };

    public override string AuditDeed(string deed) => deed switch
    {
        "made" => "creación",
        "changed" => "cambio",
        "deleted" => "borrado",
        "exported" => "exportación",
        "imported" => "importación",
        "refused" => "rechazo",
        "done" => "hecho",
        "accepted" => "aceptación",
        "revoked" => "retirada",
        "opened" => "apertura",
        "confirmed" => "confirmación",
        "reset" => "restablecimiento",
        "sent" => "envío",
        "signed-out" => "cierre de todas las sesiones",
        _ => deed,
    };
}
