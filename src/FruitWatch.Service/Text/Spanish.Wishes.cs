using FruitWatch.Service.Wishes;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string NameOf(DigestWish wish) => wish switch
    {
        DigestWish.EveryMorning => "Todas las mañanas",
        DigestWish.WhenThereIsNews => "Cuando haya novedades",
        _ => "Nunca",
    };

    public override string WishesSaid(DigestWish wish) => wish switch
    {
        DigestWish.EveryMorning => "Un correo al día, también los días tranquilos.",
        DigestWish.WhenThereIsNews => "Se saltan las mañanas sin nada que hacer y sin nada nuevo.",
        _ => "Lo pendiente está solo en las páginas, salvo lo que no puede esperar, si se te avisa de ello.",
    };

    public override string NameOf(UrgentWish wish) => wish switch
    {
        UrgentWish.InWakingHours => "Fuera de tus horas de silencio",
        UrgentWish.AtAnyHour => "A cualquier hora",
        _ => "Nunca",
    };

    public override string WishesSaid(UrgentWish wish) => wish switch
    {
        UrgentWish.InWakingHours => "De noche espera a que acaben tus horas de silencio, y llega si entonces aún sirve.",
        UrgentWish.AtAnyHour => "También de noche.",
        _ => "Lo dirá el siguiente correo de la mañana, si lo recibes.",
    };

    public override string NameOf(DigestRole role) => role switch
    {
        DigestRole.New => "Nuevo",
        DigestRole.Changed => "Ha cambiado",
        DigestRole.Withdrawn => "Ya no hace falta",
        _ => "Pendiente",
    };

    public override string WishesTitle => "De qué se te avisa";

    public override string WishesDigests => "Correo de la mañana";

    public override string WishesUrgent => "Lo que no puede esperar";

    public override string WishesUrgentHint => "Helada fuerte esta noche sobre una oleada, calor en una cama joven sin cubrir, tormenta sobre una cubierta: un correo aparte.";

    public override string WishesKinds => "Avísame de";

    public override string WishesKindsHint => "Lo que hay que saber antes de comer una seta está junto a cada aviso de primordios y cosecha. Nunca se deja fuera.";

    public override string WishesSitesHint => "Los correos hablan de estos sitios.";

    public override string WishesSitesFixed => "Quien coordina la cooperativa dice cuáles son estos sitios.";

    public override string WishesOwnBeds => "Aquí cuidas de camas.";

    public override string WishesBedsHint => "Una cama sin marca no sale en ninguno de tus correos y calendarios. Una cama que se añada después empieza con ella.";

    public override string WishesBedsOf(string site) => $"Camas de {site}";

    public override string WishesBedsTold(int told, int all) => told == all ? "se te avisa de todas" : $"se te avisa de {told} de {all}";

    public override string WishesPause => "Una pausa";

    public override string WishesPauseHint => "Del primer día al último, ambos incluidos, no se te envía ni el correo de la mañana ni los urgentes. Después vuelven por sí solos.";

    public override string WishesAwayFrom => "Primer día fuera";

    public override string WishesAwayUntil => "Último día fuera";

    public override string WishesBothDays => "Indica los dos días de la pausa, o ninguno.";

    public override string WishesPauseWithin => "El último día es el primero o uno posterior, y como mucho un año más tarde.";

    public override string WishesDeputy => "A quién se avisa en tu lugar";

    public override string WishesDeputyHint => "Se le avisa también de tus sitios y camas. Puede ser quien pueda ver todas las camas de la cooperativa: quien coordina, quien solo mira, y quien cultiva si en ella se ven las camas de las demás personas. Pregúntale antes.";

    public override string WishesDeputyNeedsDays => "Indica también los días de la pausa.";

    public override string WishesNoDeputy => "Elige a otro miembro que tenga acceso y una dirección de correo, y que pueda ver todas las camas de la cooperativa.";

    public override string WishesNobody => "a nadie";

    public override string NameOf(DeputyDoubt doubt) => doubt switch
    {
        DeputyDoubt.MailPaused => "su correo se devuelve",
        DeputyDoubt.NoDigests => "no recibe el correo de la mañana",
        DeputyDoubt.NoUrgent => "no recibe correos urgentes",
        _ => "también tiene una pausa",
    };

    public override string WishesDeputyDoubtful(string name) => $"Puede que {name} no se entere:";

    public override string WishesWhen => "Cuándo y dónde más";

    public override string WishesHours(LocalTime? morning, LocalTime quietFrom, LocalTime quietUntil) =>
        (morning is { } at ? $"El correo de la mañana llega a partir de las {Time(at)}" : "El correo de la mañana llega en cuanto termina la ronda de la mañana")
        + (quietFrom == quietUntil ? "; no tienes horas de silencio." : $"; silencio de las {Time(quietFrom)} a las {Time(quietUntil)}.");

    public override string WishesToHours => "Cambiar las horas";

    public override string WishesToCalendars => "Calendarios";

    public override string WishesNoAddress => "Aquí no tienes dirección de correo.";

    public override string WishesPausedTitle => "El correo no llega";

    public override string WishesPaused(string address, string since, string why) =>
        $"El correo a {address} fue devuelto, y no se envía nada allí desde el {since}.{(why.Length > 0 ? $" El otro servidor dijo: {why}" : "")}";

    public override string WishesResume => "Probar otra vez";

    public override string WishesResumed => "Desde ahora se vuelve a enviar correo.";

    public override string WishesHistory => "Qué se te ha enviado y por qué";

    public override string WishesNothingSent => "Todavía nada.";

    protected override string WishesWhyOf(string what) => what switch
    {
        "digest" => "Correo de la mañana",
        "urgent" => "Urgente",
        "test" => "Pediste una prueba",
        "silence" => "Una fuente meteorológica calla",
        "invitation" => "Se te invitó",
        "webhook-stopped" => "Se detuvo un webhook",
        "taken-back" => "Ya no es urgente",
        "address-paused" => "Se devolvió el correo a alguien",
        _ => "Del servicio",
    };

    public override string TestTitle => "¿Te llega el correo?";

    public override string TestSend => "Envíame un mensaje de prueba";

    public override string TestSent(string address) => $"Un mensaje de prueba a {address} está en camino.";

    public override string TestNotPossible => "No hay dirección que se sepa tuya, o el correo a ella se devuelve: no se ha enviado nada.";

    public override string TestSubject => "Mensaje de prueba: el correo te llega";

    public override string TestSummary(string cooperative) => $"Lo pediste en las páginas de {cooperative}. Si lo tienes delante, los demás correos también te llegarán.";

    public override string TestWhyYou => "Si estaba entre el correo no deseado, dile a tu lector de correo que lo quieres.";

    public override string StopTitle(StopTopic topic) => topic == StopTopic.Digest ? "¿Detener el correo de la mañana?" : "¿Detener los correos urgentes?";

    public override string StopStoppedTitle(StopTopic topic) => topic == StopTopic.Digest ? "El correo de la mañana está detenido" : "Los correos urgentes están detenidos";

    public override string StopSaid(StopTopic topic, bool otherComes) => (topic, otherComes) switch
    {
        (StopTopic.Digest, true) => "Entonces ningún correo de la mañana te dirá qué necesitan tus camas. Los avisos urgentes seguirán llegando.",
        (StopTopic.Digest, false) => "Entonces ningún correo te dirá qué necesitan tus camas: los urgentes también están detenidos. Estará solo en las páginas.",
        (_, true) => "Entonces solo el siguiente correo de la mañana te avisará de heladas fuertes, calor y tormentas.",
        _ => "Entonces ningún correo te avisará de heladas fuertes, calor y tormentas: el de la mañana también está detenido. Estará solo en las páginas.",
    };

    public override string StopButton(StopTopic topic) => topic == StopTopic.Digest ? "Detener el correo de la mañana" : "Detener los correos urgentes";

    public override string StopLooking => "Nada cambia antes de pulsar el botón.";

    public override string StopDone(StopTopic topic) => topic == StopTopic.Digest ? "Hecho: no habrá más correos de la mañana." : "Hecho: no habrá más correos urgentes.";

    public override string StopStart(StopTopic topic) => topic == StopTopic.Digest ? "Volver al correo de la mañana" : "Volver a los correos urgentes";

    public override string StopStarted(StopTopic topic) => topic == StopTopic.Digest ? "El correo de la mañana vuelve a llegar." : "Los correos urgentes vuelven a llegar.";

    public override string StopWhose(string person, string cooperative) => $"Es para {person}, de {cooperative}.";

    public override string StopRest => "Qué más se te envía";

    public override string StopBeds => "Camas de las que se te avisa";

    public override string StopInstead => "O dejar fuera camas sueltas, o tipos de avisos";

    public override string StopLess => "Este enlace solo puede elegir menos, y deshacerlo. Para más, inicia sesión:";

    public override string StopUnknownTitle => "Este enlace no se conoce";

    public override string StopUnknownSaid =>
        "Puede que se haya cortado por el camino, o que sea de alguien que ya no es miembro y no recibe nada. Ábrelo otra vez desde el correo, o pregunta a quien coordina tu cooperativa.";

    private string Time(LocalTime time) => Clock(new LocalDate(2000, 1, 1).At(time));
}
