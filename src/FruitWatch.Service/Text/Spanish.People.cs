using System.Globalization;
using FruitWatch.Service.People;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string NameOf(Role role) => role switch
    {
        Role.Coordinator => "Coordinación",
        Role.Grower => "Cultivo",
        Role.FarmHand => "Trabajo de campo",
        _ => "Solo lectura",
    };

    public override string RoleSaid(Role role, bool growersReadAll) => role switch
    {
        Role.Coordinator => "Responde de la cooperativa: sitios, camas, fuentes y miembros.",
        Role.Grower when growersReadAll => "Cuida de sus camas y lee las de los demás.",
        Role.Grower => "Cuida de sus camas y no ve otras.",
        Role.FarmHand => "Trabaja en los sitios de los que recibe avisos: las listas de hoy y los diarios.",
        _ => "Lo lee todo y no cambia nada.",
    };

    public override string NameOf(Units units) => units == Units.Metric ? "°C, mm, litros" : "°F, pulgadas, galones";

    public override string PeopleRefused(MemberRefusal why) => why switch
    {
        MemberRefusal.OwnRole => "Nadie cambia su propia función. Pídelo a otra persona que coordine.",
        MemberRefusal.LastCoordinator => "Alguien tiene que responder de la cooperativa: primero, dar la coordinación a otro miembro que pueda entrar.",
        MemberRefusal.HasAccepted => "Ya aceptó una invitación y puede entrar.",
        MemberRefusal.NoAddress => "No hay dirección a la que enviar una invitación.",
        MemberRefusal.NotAccepted => "Aún no ha aceptado la invitación; con ella tendrá acceso.",
        MemberRefusal.NoFarmHand => "Los enlaces personales son para quien trabaja en el campo. Los demás entran con su cuenta.",
        MemberRefusal.NotActive => "Ahora no tiene acceso: primero hay que dárselo.",
        MemberRefusal.AddressTaken => PeopleAddressTaken,
        _ => "Se han enviado demasiadas invitaciones en una hora. Inténtalo más tarde.",
    };

    public override string PeopleSees(IReadOnlyList<string> sites, int beds) =>
        (sites.Count == 0 ? "Sin avisos de ningún sitio" : $"Avisos de {string.Join(", ", sites)}")
        + beds switch { 0 => ".", 1 => "; una cama propia.", _ => $"; {Number(beds)} camas propias." };

    public override string PeopleTitle => "Miembros";

    public override string PeopleLead => "Quién forma parte de la cooperativa y qué ve cada persona.";

    public override string PeopleInvite => "Invitar a alguien";

    public override string PeopleInviteLead => "Recibirá un correo con un enlace. Hasta que acepte, no se envía nada más a esa dirección.";

    public override string PeopleName => "Nombre";

    public override string PeopleEmail => "Dirección de correo";

    public override string PeopleEmailHint => "Quien trabaja en el campo puede no tenerla y trabajar solo con un enlace personal.";

    public override string PeopleRole => "Función";

    public override string PeopleOwnRole => "Nadie cambia su propia función: pídelo a otra persona que coordine.";

    public override string PeopleLanguage => "Idioma";

    public override string PeopleUnits => "Unidades";

    public override string PeopleZone => "Huso horario";

    public override string PeopleZoneHint => "Por ejemplo Europe/Madrid. Vacío: el del sitio donde ocurre cada cosa.";

    public override string PeopleMorning => "Correo de la mañana, no antes de las";

    public override string PeopleMorningHint => "Vacío: en cuanto acabe la ronda de la mañana.";

    public override string PeopleQuietFrom => "Silencio desde las";

    public override string PeopleQuietUntil => "Silencio hasta las";

    public override string PeopleHowTheyRead => "Cómo lee";

    public override string PeopleSites => "Recibe avisos de estos sitios";

    public override string PeopleSitesHint =>
        "El correo de la mañana habla de estos sitios. Quien trabaja en el campo no ve otros. Marcar una cama la hace suya y marca su sitio.";

    public override string PeopleOwnBeds => "Camas propias";

    public override string PeopleActive => "Puede entrar y recibe avisos";

    public override string PeopleActiveHint => "Sin la marca no se pierde nada, pero las sesiones, los tokens y los enlaces dejan de abrir.";

    public override string PeopleIsActive => "En activo";

    public override string PeopleIsInactive => "Sin acceso por ahora";

    public override string PeopleNotAccepted => "No ha aceptado";

    public override string PeopleInvitedUntil(LocalDate day) => $"Con invitación abierta hasta el {ShortDate(day)}";

    public override string PeopleSendInvitation => "Enviar la invitación";

    public override string PeopleSendAgain => "Enviar otra vez";

    public override string PeopleTakeBack => "Retirar";

    public override string PeopleInvitationTitle => "Invitación";

    public override string PeopleInvitationOpen(string address, LocalDate until) => $"Enviada a {address}. Se puede aceptar hasta el {Date(until)}. Enviarla otra vez anula la anterior.";

    public override string PeopleInvitationNone(string address) => $"No hay ninguna invitación abierta para {address}.";

    public override string PeopleInvitationSent => "La invitación está en camino.";

    public override string PeopleInvitationTakenBack => "La invitación se ha retirado.";

    public override string PeopleMade => "Guardado. Crea abajo un enlace personal y entrégalo.";

    public override string PeopleChange => "Función, sitios y ajustes";

    public override string PeopleRemoved => "Ya no es miembro. Sus anotaciones siguen en los diarios, sin nombre.";

    public override string PeopleRemove => "Quitar para siempre";

    public override string PeopleRemoveSaid(string name) =>
        $"Se borran el nombre, la dirección, los ajustes, los tokens y los enlaces de {name}. Las anotaciones quedan, sin el nombre. No se puede deshacer.";

    public override string PeopleRemoveSure(string name) => $"Sí, quitar a {name}";

    public override string PeopleRemoveTick => "Primero hay que marcar la casilla: no se puede deshacer.";

    public override string PeopleAddressIsTheirs => "Su titular la confirmó y es quien puede cambiarla.";

    public override string PeopleAddressTaken => "Otra persona de la cooperativa ya tiene esta dirección.";

    public override string PeopleUnknownSite => "La cooperativa no tiene ese sitio.";

    public override string PeopleUnknownBed => "La cooperativa no tiene esa cama.";

    public override string PeopleWholeDays => "Días enteros.";

    public override string AccountTitle => "Tus ajustes";

    public override string AccountIs(string role, string cooperative) => $"{role} en {cooperative}";

    public override string AccountSites => "Avisos de";

    public override string AccountNoSites => "ningún sitio";

    public override string AccountBeds => "Camas propias";

    public override string AccountSettings => "Cómo lees";

    public override string AccountWays => "Formas de entrar";

    public override string AccountToSecurity => "Contraseña y acceso";

    public override string AccountToTokens => "Tokens para programas";

    public override string LinksTitle => "Enlaces personales";

    public override string LinksSaid =>
        "Con un enlace trabaja sin contraseña: las listas de hoy de sus sitios y los diarios, nada más. Quien tenga el enlace puede hacer lo mismo; conviene uno por teléfono, y retirarlo si se pierde.";

    public override string LinksName => "Cómo llamarlo";

    public override string LinksNameHint => "Por ejemplo, el teléfono para el que es.";

    public override string LinksDays => "Para cuántos días";

    public override string LinksMake => "Crear un enlace";

    public override string LinksMade(string name) => $"El enlace «{name}» está creado.";

    public override string LinksOnce => "Su dirección se muestra aquí una sola vez: cópiala o deja que el teléfono lea el código.";

    public override string LinksQr(string name) => $"Código QR del enlace {name}";

    public override string LinksNone => "Todavía no hay enlaces.";

    public override string LinksUntil(LocalDate day) => $"abre hasta el {ShortDate(day)} de {day.Year.ToString(CultureInfo.InvariantCulture)}";

    public override string LinksExpired(LocalDate day) => $"caducó el {ShortDate(day)}";

    public override string LinksTakenBackOn(LocalDate day) => $"retirado el {ShortDate(day)}";

    public override string LinksUsed(LocalDate? day) => day is { } last ? $"usado por última vez el {ShortDate(last)}" : "nunca usado";

    public override string LinksRevoke => "Retirar";

    public override string LinksRevoked => "El enlace se ha retirado: ya no abre.";

    public override string LinksSummary(int open, LocalDate? used) =>
        open == 0 ? "Sin enlace personal." : $"{(open == 1 ? "Un enlace personal" : $"{Number(open)} enlaces personales")}, {LinksUsed(used)}.";

    public override string WithTitle => "La lista de hoy";

    public override string WithSaid(string person, string cooperative) => $"Este enlace permite a {person} ver lo que hay que hacer hoy en {cooperative} y anotar lo que se hizo.";

    public override string WithButton => "Abrir la lista de hoy";

    public override string WithUntil(LocalDate day) => $"Abre hasta el {Date(day)}.";

    public override string WithCookie => "Este teléfono lo recuerda hasta entonces, o hasta que salgas.";

    public override string WithGoneTitle => "Este enlace no abre nada";

    public override string WithGoneSaid => "Pide uno nuevo a quien coordina. Si tienes una cuenta, entra con ella.";

    public override string WithLeftTitle => "Has salido";

    public override string WithLeftSaid => "Este teléfono ya no recuerda el enlace. Ábrelo otra vez para volver.";

    public override string WithBarTitle => "Enlace personal";

    public override string WithBar(string person) => $"Trabajas como {person}.";

    public override string WithLeave => "Salir";

    public override string DemoAsTitle => "Verlo como:";

    public override string DemoAs(string name, string role) => $"{name}, {role.ToLower(Culture)}";

    public override string DemoAsButton => "Cambiar";

    public override string LogReadOnly => "Puedes leer esta cama. Su diario lo escribe quien la cuida.";

    public override string LogBy(string name) => $"por {name}";

    public override string LogGone => "alguien que ya no está";

    public override string InvitationSubject(string cooperative) => $"Te invitan a {cooperative}";

    public override string InvitationGreeting(string name) => $"Hola, {name}.";

    public override string InvitationSummary(string inviter, string cooperative, Role role) =>
        $"{inviter} te pide que te unas a {cooperative} en FruitWatch, que dice cada mañana lo que necesitan las camas de setas. Tu función allí: {NameOf(role).ToLower(Culture)}.";

    public override string InvitationOpen => "Ver la invitación";

    public override string InvitationUntil(LocalDate day) => $"El enlace se puede usar una vez, hasta el {Date(day)}.";

    public override string InvitationNotYou => "Si esto no te dice nada, no hagas nada: no llegará ningún otro correo.";
}
