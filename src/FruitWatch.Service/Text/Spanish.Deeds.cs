using FruitWatch.Service.Deeds;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string NameOf(Deed deed) => deed switch
    {
        Deed.Watered => "Regada",
        Deed.CoverOn => "Cubierta puesta",
        Deed.CoverOff => "Cubierta quitada",
        Deed.PinsSeen => "Primordios vistos",
        _ => "Hoy no",
    };

    public override string DeedTitle(Deed deed) => deed switch
    {
        Deed.Watered => "¿La has regado?",
        Deed.CoverOn => "¿Está puesta la cubierta?",
        Deed.CoverOff => "¿Está quitada la cubierta?",
        Deed.PinsSeen => "¿Has visto primordios?",
        _ => "¿Dejarlo para otro día?",
    };

    public override string DeedDoneTitle(Deed deed) => deed switch
    {
        Deed.Watered => "Regada",
        Deed.CoverOn => "La cubierta está puesta",
        Deed.CoverOff => "La cubierta está quitada",
        Deed.PinsSeen => "Primordios vistos",
        _ => "Para otro día",
    };

    public override string DeedButton(Deed deed) => deed switch
    {
        Deed.Watered => "Sí, la he regado",
        Deed.CoverOn => "Sí, está puesta",
        Deed.CoverOff => "Sí, está quitada",
        Deed.PinsSeen => "Sí, los he visto",
        _ => "Avísame entonces",
    };

    public override string DeedRefusedTitle(DeedState state) => state switch
    {
        DeedState.Expired => "Este enlace es demasiado antiguo",
        DeedState.NotMember => "Este enlace ya no abre nada",
        DeedState.NotTheirs => "No puedes anotarlo",
        DeedState.BedRetired => "La cama se abandonó",
        DeedState.Ended => "Esto ya está resuelto",
        _ => "Este enlace no se conoce",
    };

    public override string DeedRefusedSaid(DeedState state) => state switch
    {
        DeedState.Expired => "Los enlaces de un correo valen tres días. No se ha anotado nada. Entra y anótalo en el diario de la cama.",
        DeedState.NotMember => "La persona a la que se envió el correo no tiene acceso ahora. No se ha anotado nada. Pregunta a quien coordina la cooperativa.",
        DeedState.NotTheirs => "La persona a la que se envió el correo no puede hacer esto ahora en esa cama. No se ha anotado nada.",
        DeedState.BedRetired => "Desde un correo ya no se anota nada en ella.",
        DeedState.Ended => "Lo que decía el correo ha terminado.",
        _ => "Puede que se haya cortado o cambiado por el camino, o que sea de antes de que el servicio tuviera claves nuevas. Ábrelo otra vez desde el correo, o entra y anótalo en el diario de la cama.",
    };

    public override string DeedBed => "Cama";

    public override string DeedSite => "Sitio";

    public override string DeedEntry => "Se anota";

    public override string DeedNotice => "Sobre";

    public override string DeedFor => "En nombre de";

    public override string DeedSaid => "No se anota nada antes de pulsar el botón, y se puede deshacer.";

    public override string DeedSnoozeSaid => "Solo a ti se te avisa más tarde; a los demás que cuidan de la cama, como siempre.";

    public override string DeedOtherAmount => "Fue otra cantidad";

    public override string DeedChanged => "Ha cambiado desde que se escribió tu correo. Aquí está lo que vale ahora.";

    public override string DeedLookAgain => "Ha cambiado mientras mirabas, y no se ha anotado nada. Míralo otra vez.";

    public override string DeedRecorded(LocalDateTime at, LocalDate today) => $"Anotado: {When(at, today)}.";

    public override string DeedPutOff(LocalDate until, LocalDate today) => $"Se te avisará otra vez el {Date(until)}, si todavía hace falta.";

    public override string DeedUndone(LocalDateTime at, LocalDate today) => $"Deshecho: {When(at, today)}. Es como si nunca se hubiera anotado.";

    public override string DeedCorrected => "Después se corrigió en la página de la cama.";

    public override string DeedDoneSaid => "Todo lo demás está en su página:";

    public override string DeedOpenBed => "Abrir la cama";

    public override string DeedDoneBy(string name, LocalDateTime at, LocalDate today) => $"{name} ya ha anotado lo mismo: {When(at, today)}.";

    public override string DeedNothingChanged => "Ahora no se ha anotado nada. Si también lo has hecho, anótalo en el diario de la cama.";

    public override string DeedUntilWhen => "Avísame otra vez";

    public override string DeedInDays(int days, LocalDate day) => days switch
    {
        1 => $"Mañana, {Date(day)}",
        7 => $"Dentro de una semana, {Date(day)}",
        _ => $"Dentro de {Number(days)} días, {Date(day)}",
    };

    public override string DeedTooLate => "Después del último día en que sirve.";
}
