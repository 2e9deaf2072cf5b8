using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Weather;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override string FeedsLink => "Fuentes";

    public override string FeedsTitle => "Fuentes del tiempo";

    public override string FeedsLead => "De dónde viene el tiempo de cada sitio, y cómo llega.";

    public override string FeedsAdd => "Añadir una fuente";

    public override string FeedsNoneUsed => "Este sitio no tiene fuente: no se sabe nada de su tiempo.";

    public override string FeedsUnused => "Fuentes que ningún sitio usa";

    public override string FeedsGoneDone => "La fuente se ha borrado.";

    public override string FeedsSavedDone => "La fuente está guardada. Se pedirá en la próxima ronda.";

    public override string FeedsAskedDone => "Se ha pedido la fuente.";

    public override string FeedsConfirmedDone => "Anotado: las unidades son correctas.";

    public override string FeedsLastGood => "Última respuesta buena";

    public override string FeedsNever => "nunca";

    public override string FeedsLastDay => "Último día informado";

    public override string FeedsNextTry => "Próximo intento";

    public override string FeedsUnknown => "desconocido";

    public override string FeedsAskNow => "Pedir ahora";

    public override string FeedsUnitsRight => "Las unidades son correctas";

    public override string FeedsUnitsMend => "Corregirlo";

    public override string FeedsNotes => "Qué hubo de raro";

    public override string FeedsEvidence => "Lo que llegó en su lugar";

    public override string FeedsLicence => "Licencia";

    public override string FeedsCredit => "Crédito";

    public override string FeedsBackfill => "Años pasados";

    public override string FeedsSlotTitle => "Para qué la usa el sitio";

    public override string FeedsNewTitle => "Añadir una fuente del tiempo";

    public override string FeedsNewLead => "Elegir de dónde viene el tiempo. Nada cuenta hasta haber visto lo que se entendió, y haberlo guardado.";

    public override string FeedsRecommended => "la elección habitual";

    public override string FeedsNeedsFile => "un archivo propio";

    public override string FeedsNeedsKey => "una clave del proveedor";

    public override string FeedsNeedsStation => "el nombre de una estación";

    public override string FeedsNeeds => "Necesita";

    public override string FeedsOwnTitle => "Una fuente propia";

    public override string FeedsOwnSaid => "Cualquier fuente abierta que responda con JSON, CSV o filas de ancho fijo: partir de la descripción más parecida y cambiarla en «La descripción».";

    public override string FeedsSite => "Sitio";

    public override string FeedsStation => "Estación";

    public override string FeedsStationHint => "Su identificador en la lista de la propia fuente.";

    public override string FeedsKey => "Clave";

    public override string FeedsKeyHint => "Como la dio el proveedor. Se guarda sellada y no se vuelve a mostrar.";

    public override string FeedsKeyKept => "Hay una clave guardada. Dejarlo vacío para seguir usándola.";

    public override string FeedsFile => "Archivo";

    public override string FeedsName => "Cómo llamarla";

    public override string FeedsAdvanced => "La descripción (avanzado)";

    public override string FeedsAdvancedHint => "El lenguaje weather-feed/1, en JSON. docs/feeds.md explica cada miembro.";

    public override string FeedsDescription => "Descripción en JSON";

    public override string FeedsAskAndShow => "Pedir y mostrar";

    public override string FeedsReadAndShow => "Leer y mostrar";

    public override string FeedsNotTaken => "Eso no se pudo aceptar tal como está.";

    public override string FeedsChooseSite => "Elegir un sitio.";

    public override string FeedsGiveStation => "Nombrar la estación.";

    public override string FeedsGiveKey => "Introducir la clave.";

    public override string FeedsGiveFile => "Elegir un archivo.";

    public override string FeedsGiveName => "Darle un nombre de hasta 120 caracteres.";

    public override string FeedsNothingSaved => "Todavía no hay nada guardado.";

    public override string FeedsJustAsked => "Se ha pedido la fuente una vez, ahora mismo.";

    public override string FeedsJustRead => "Se acaba de leer el archivo.";

    public override string FeedsNotAsked => "Aún no se ha pedido.";

    public override string FeedsRequestChanged => "La descripción pide ahora otra cosa que esta respuesta. Pedir de nuevo antes de guardarla.";

    public override string FeedsKeyDropped => "La clave se ha descartado: la descripción la envía ahora a otro servidor que aquel para el que se dio. Introducir la clave de ese servidor.";

    public override string FeedsAsked => "Pedido";

    public override string FeedsAskedFile => "Archivo";

    public override string FeedsCame => "Llegó";

    public override string FeedsType => "Tipo";

    public override string FeedsSize => "Tamaño";

    public override string FeedsDays => "Días";

    public override string FeedsMembers => "Miembros";

    public override string FeedsLookAt => "Mirar esto primero";

    public override string FeedsRefusedTitle => "No se entendió ningún día";

    public override string FeedsWhere => "Dónde";

    public override string FeedsWhatToDo => "Qué hacer";

    public override string FeedsTableTitle => "Los días, como se entendieron";

    public override string FeedsTableRegion => "Tabla de los días";

    public override string FeedsTmax => "Máxima";

    public override string FeedsTmin => "Mínima";

    public override string FeedsTmean => "Media";

    public override string FeedsRain => "Lluvia";

    public override string FeedsHumidity => "Humedad";

    public override string FeedsFrom => "Clase de día";

    public override string FeedsPastDay => "pasado";

    public override string FeedsForecast => "pronóstico";

    public override string FeedsComplete => "completo";

    public override string FeedsRawTitle => "en la respuesta";

    public override string FeedsGaps => "Huecos";

    public override string FeedsHead => "El comienzo de la respuesta";

    public override string FeedsCaveats => "Conviene saber";

    public override string FeedsConditions => "Condiciones";

    public override string FeedsSaveTitle => "Usarla";

    public override string FeedsSaveSaid => "Se guarda exactamente lo que se ve aquí.";

    public override string FeedsSave => "Guardar la fuente";

    public override string FeedsNotYet => "Todavía no se puede guardar.";

    public override string FeedsUnitsChecked => "He mirado los números: las unidades son correctas";

    public override string FeedsAskAgain => "Pedir de nuevo";

    public override string FeedsOtherFile => "Otro archivo";

    public override string FeedsTry => "Probarla con la respuesta que hay";

    public override string FeedsTryChanged => "Probar el cambio";

    public override string FeedsChange => "Cambiarla";

    public override string FeedsChangeSaid => "Una descripción cambiada se prueba primero con la última respuesta. No se pide nada, y nada cambia hasta guardarla.";

    public override string FeedsKept => "Lo que se guarda";

    public override string FeedsShortName => "Nombre corto";

    public override string FeedsProvides => "Informa de";

    public override string FeedsUsedBy => "La usan";

    public override string FeedsNobody => "ningún sitio";

    public override string FeedsKeyIsKept => "Hay una clave guardada.";

    public override string FeedsDelete => "Borrar la fuente";

    public override string FeedsNoAnswer => "Aún no se guarda ninguna respuesta de esta fuente.";

    public override string FeedsCannotRead => "La descripción no se puede leer";

    public override string FeedsDraftGone => "Esa vista previa ya no está. Se guardan un día: empezar de nuevo.";

    public override string FeedsUnsettled => "Responder primero a la pregunta sobre las unidades: corregirla, o marcar que son correctas.";

    public override string FeedsFixed => "Corregido. La respuesta guardada se ha leído de nuevo.";

    public override string NameOf(FeedStanding standing) => standing switch
    {
        FeedStanding.NotAsked => "aún sin pedir",
        FeedStanding.Good => "bien",
        FeedStanding.Failing => "no dio nada, se vuelve a pedir",
        FeedStanding.Waiting => "espera a que alguien la corrija",
        _ => "retenida: ¿son correctas sus unidades?",
    };

    public override string NameOf(FeedSlot slot) => slot switch
    {
        FeedSlot.Forecast => "Días que vienen",
        FeedSlot.Station => "Días medidos, de una estación cercana",
        _ => "Años pasados, de un archivo",
    };

    public override string NameOf(FeedProvides provides) => provides switch
    {
        FeedProvides.Forecast => "días que vienen",
        FeedProvides.History => "días pasados",
        FeedProvides.Both => "días pasados y que vienen",
        _ => "días que vienen, muchas veces",
    };

    public override string NameOf(FeedPurpose purpose) => purpose switch
    {
        FeedPurpose.Anywhere => "Un pronóstico, en cualquier lugar",
        FeedPurpose.UnitedStates => "En Estados Unidos",
        FeedPurpose.Nordics => "En los países nórdicos",
        FeedPurpose.Germany => "En Alemania",
        FeedPurpose.OwnStation => "La propia estación",
        FeedPurpose.PastYears => "Años pasados",
        FeedPurpose.Spread => "Cuán seguro es un pronóstico",
        _ => "Otras",
    };

    public override string FeedsAgo(Duration age) =>
        age.TotalHours < 1 ? "hace menos de una hora" : age.TotalHours < 48 ? $"hace {Number(age.TotalHours)} horas" : $"hace {Number(age.TotalDays)} días";

    public override string FeedsIn(Duration wait) =>
        wait <= Duration.Zero ? "en la próxima ronda" : wait.TotalHours < 1 ? "antes de una hora" : wait.TotalHours < 48 ? $"en {Number(wait.TotalHours)} horas" : $"en {Number(wait.TotalDays)} días";

    public override string FeedsSilent(LocalDateTime since, LocalDate today) => $"En silencio desde: {When(since, today)}.";

    public override string FeedsFailures(int inARow) => inARow == 1 ? "Un intento sin respuesta buena." : $"{Number(inARow)} intentos seguidos sin respuesta buena.";

    public override string FeedsBackfillSaid(BackfillState state, double done, int days) => state switch
    {
        BackfillState.Running => $"se están pidiendo: {Percent(done)} pedido, {Number(days)} días guardados",
        BackfillState.Halted => $"detenido en el {Percent(done)}, {Number(days)} días guardados",
        BackfillState.Done => $"todo pedido, {Number(days)} días guardados",
        _ => $"atascado en el {Percent(done)}, {Number(days)} días guardados",
    };

    public override string FeedsReadAgain(LocalDateTime at, LocalDate today) => $"Se ha leído de nuevo la respuesta guardada ({When(at, today)}). No se ha pedido nada.";

    public override string FeedsDaysFound(int count, LocalDate first, LocalDate last, int shown) =>
        $"{Number(count)}, del {Dated(first)} al {Dated(last)}{(shown < count ? $"; se muestran {Number(shown)}" : "")}";

    public override string FeedsGap(LocalDate first, LocalDate last) => first == last ? $"{Dated(first)}: desconocido" : $"del {Dated(first)} al {Dated(last)}: desconocido";

    public override string FeedsWarning(TrialWarning warning) => warning.Code == TrialWarning.Far
        ? $"La respuesta es de un lugar a {Number(warning.Amount)}\u00a0km del sitio ({Number(warning.Place.Latitude, 3)}°, {Number(warning.Place.Longitude, 3)}°)."
        : $"La respuesta es de una altura de {Number(warning.Place.Elevation ?? 0)}\u00a0m, a {Number(warning.Amount)}\u00a0m de la del sitio. Comprobar la altitud del sitio.";

    public override string FeedsIncomplete(double coverage) => $"incompleto, {Percent(coverage)} del día";

    public override string FeedsRange(string low, string high) => $"de {low} a {high}";

    public override string FeedsRawCount(int count) => $"de {Number(count)} valores";

    public override string FeedsNotTold(IEnumerable<string> quantities) => $"Esta fuente no dice nada de: {string.Join(", ", quantities)}.";

    public override string FeedsTimes(int count) => count == 1 ? "una vez" : $"{Number(count)} veces";

    public override string FeedsInstead(string feed) => $"en lugar de {feed}";

    public override string FeedsProblemAt(string pointer, int line) => $"{pointer}, línea {line}";

    public override string FeedsTooOften(int most, int seconds) =>
        $"Se piden fuentes para mirarlas {most} veces por minuto como mucho. Intentarlo de nuevo en {seconds} segundos; una descripción cambiada se puede probar siempre con la respuesta que hay.";

    public override string FeedsRefused(FeedRefusedException refused) => refused.Why switch
    {
        FeedRefusal.NotSeenGood => "Solo se guarda lo que se vio dar días. Probar la fuente, mirar lo que se entendió, y guardar eso.",
        FeedRefusal.TooOld => "La prueba tiene más de un día: el tiempo con que se probó ya pasó. Probar la fuente de nuevo.",
        FeedRefusal.NoKey => "La fuente necesita una clave, y no hay ninguna. Dársela a la prueba.",
        FeedRefusal.UnitsAsked => "Hay una pregunta sobre sus unidades. Corregir la descripción, o confirmar que son correctas.",
        FeedRefusal.OtherFeed => "La prueba no es de esta fuente: la de una fuente nueva hace una fuente, la de una fuente cambia esa.",
        FeedRefusal.InUse => $"Se usa en {string.Join(", ", refused.Sites)}. Darles antes otra fuente.",
        _ => "Se guarda tiempo que ella dio, y ha de poder decirse de dónde vino. Puede quedarse sin usarse.",
    };

    public override string FeedsWaitFor(Duration wait) => $"Dejarlo en paz {Number(Math.Ceiling(wait.TotalMinutes))} minutos.";

    public override string FeedsLooksTitle(string feed, string site) => $"Lo que se entendió: {feed}, para {site}";

    public override string FeedsSlotAt(string site) => $"Para qué la usa {site}";

    private string Dated(LocalDate day) => day.ToString("d MMM uuuu", Culture);
}
