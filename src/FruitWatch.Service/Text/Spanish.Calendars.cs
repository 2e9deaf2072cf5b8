using FruitWatch.Model.Notices;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

/// <summary>Private calendar feeds: their page, and what stands in them.</summary>
internal sealed partial class Spanish
{
    public override string CalendarsLink => "Calendarios";

    public override string CalendarsTitle => "Tus calendarios";

    public override string CalendarsLead =>
        "Tareas, periodos de primordios y cosecha, heladas y calor, en el programa de calendario que ya usas: en tu idioma, y de las camas que puedes ver.";

    public override string CalendarsPlan => "El calendario es un plan, el correo es la alarma: algunos programas lo leen una vez al día.";

    public override string CalendarsMade(string name) => $"El calendario «{name}» está creado.";

    public override string CalendarsOnce =>
        "Su dirección se muestra aquí una sola vez: cópiala o deja que el teléfono lea el código. Quien la tenga lee lo que tú puedes leer de estas camas; con ella no se puede cambiar nada.";

    public override string CalendarsOpen => "Abrirlo en el programa de calendario de este dispositivo";

    public override string CalendarsQr(string name) => $"Código QR del calendario {name}";

    public override string CalendarsHow => "Cómo añadirlo";

    public override string CalendarsYours => "Calendarios que tienes";

    public override string CalendarsNone => "Todavía no hay ninguno.";

    public override string CalendarsShows(string? site) => site is null ? "todos los sitios de los que recibes avisos" : $"solo {site}";

    public override string CalendarsSiteGone => "un sitio que ya no ves: vacío";

    public override string CalendarsRead(LocalDate? day) => day is { } last ? $"leído por última vez el {ShortDate(last)}" : "nunca leído";

    public override string CalendarsRevoke => "Retirar";

    public override string CalendarsRevokeNamed(string name) => $"Retirar «{name}»";

    public override string CalendarsRevokeMeans =>
        "Su dirección ya no abre nada, en ningún programa en que se haya añadido. Las entradas que un programa conserve se van al quitar allí el calendario. No se puede deshacer.";

    public override string CalendarsRevoked => "El calendario se ha retirado: su dirección ya no abre nada.";

    public override string CalendarsNew => "Un calendario nuevo";

    public override string CalendarsName => "Cómo llamarlo";

    public override string CalendarsNameHint => "Por ejemplo: teléfono. Uno por programa, para poder retirar cada uno por separado.";

    public override string CalendarsSites => "Qué muestra";

    public override string CalendarsAll => "Todos los sitios de los que recibes avisos";

    public override string CalendarsTold(string sites) => sites.Length == 0 ? "De momento no recibes avisos de ningún sitio." : $"Recibes avisos de {sites}.";

    public override string CalendarsOnly(string site) => $"Solo {site}";

    public override string CalendarsMake => "Crear el calendario";

    public override string CalendarsTooMany(int most) => $"Tienes {most} calendarios. Retira antes uno.";

    public override string CalendarsUnknown => "No hay ningún calendario en esta dirección.";

    public override string CalendarsTooOften => "Leído demasiadas veces. Espera lo que dice Retry-After.";

    public override string CalendarsNamed(string? site) => site is null ? "FruitWatch" : $"FruitWatch: {site}";

    public override IReadOnlyList<string> CalendarsSteps =>
    [
        "Copia la dirección.",
        "En el programa de calendario busca cómo añadir un calendario por su dirección: se llama algo como «suscribirse», «desde internet», «por enlace» o «por URL». No «importar»: lo importado se queda como está hoy.",
        "Pega la dirección y confirma. Si el programa pregunta cada cuánto mirar, elige lo más corto; si pregunta por recordatorios, no lleva ninguno.",
        "En un programa web pueden pasar unas horas hasta que aparezcan las primeras entradas.",
    ];

    public override string CalendarsSummary(string place, string headline, NoticeState state) => $"{place} · {headline}{state switch
    {
        NoticeState.Open => "",
        NoticeState.Done => " (hecho)",
        NoticeState.Withdrawn => " (ya no hace falta)",
        _ => " (terminado)",
    }}";

    public override string CalendarsWhen(NoticeDraft notice, (LocalDate First, LocalDate Last) days) => notice switch
    {
        { Kind: NoticeKind.HoldWater } => $"Hasta el {Date(notice.Deadline)}.",
        { NeedsEatingCaution: true } => days.First == days.Last ? $"Mirar el {Date(days.First)}." : $"Mirar cada día del {Date(days.First)} al {Date(days.Last)}.",
        _ when notice.Deadline < days.First => $"Actuar antes de la noche del {Date(notice.Deadline)}.",
        _ => $"Hasta el {Date(notice.Deadline)}.",
    };
}
