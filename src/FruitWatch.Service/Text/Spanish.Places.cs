namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    public override IReadOnlyList<string> BedCautionsSaid =>
    [
        "Madera: nunca tratada, pintada, aglomerada ni de traviesas, ni astillas de borde de carretera. De la paja y los recortes, preguntar con qué se rociaron.",
        "El estiércol crudo, el agua que baja del ganado y el compost sin acabar llevan gérmenes: solo compost acabado, y más arriba que animales, fosas sépticas y caminos.",
        "La paja, las hojas y el compost secos sueltan polvo de moho, y algunas setas muchas esporas: mojarlos antes, ponerse del lado de donde viene el viento, llevar mascarilla (FFP2 o N95); mejor no, con asma o defensas bajas.",
        "Las astillas mojadas y las pacas pesan: levantar entre dos. El trabajo duro, en las horas frescas; beber; guantes para compost y estiércol.",
        "Primero van las normas locales de seguridad alimentaria, de uso del agua y de trabajo en suelo abierto.",
    ];

    public override string SiteNew => "Crear un sitio";

    public override string SiteEdit => "Cambiar este sitio";

    public override string SiteName => "Nombre";

    public override string SiteLatitude => "Latitud";

    public override string SiteLatitudeHint => "Norte positivo, por ejemplo 43,21; lo muestra un mapa en el teléfono.";

    public override string SiteLongitude => "Longitud";

    public override string SiteLongitudeHint => "Este positivo, oeste negativo, por ejemplo -3,1.";

    public override string SiteElevation => "Altura sobre el mar";

    public override string SiteElevationHint => "Vacío: al nivel del mar.";

    public override string SiteCoastal => "Cerca de una gran masa de agua";

    public override string SiteCoastalHint => "Allí la temperatura varía poco en el día.";

    public override string SiteZoneHint => "Por ejemplo Europe/Madrid. Decide qué es un día aquí.";

    public override string SiteMorning => "Ronda de la mañana desde las";

    public override string SiteMorningHint => "Después salen los correos de la mañana.";

    public override string SiteFeeds => "Tiempo";

    public override string SiteFeedsLater => "Aún no hay fuentes del tiempo: se elige una después de guardar el sitio.";

    public override string SiteFeedsHint => "De qué fuentes toma el tiempo. Más tarde se puede añadir otra.";

    public override string SiteNoFeed => "ninguna";

    public override string SiteForecastFeed => "Días por venir";

    public override string SiteStationFeed => "Días pasados, de una estación cercana";

    public override string SiteHistoryFeed => "Días pasados, de un archivo";

    public override string SiteStation => "Identificador de la estación";

    public override string SiteStationHint => "Solo para una fuente que se consulta por estación: como está en la lista del proveedor.";

    public override string SiteOtherCooperative => "Un sitio es de la propia cooperativa y se queda en ella.";

    public override string SiteNoSuchFeed => "La cooperativa no tiene esa fuente.";

    public override string SiteNeedsStation(string feed) =>
        $"La fuente «{feed}» se consulta por estación. Falta el identificador de la estación en la lista del proveedor.";

    public override string FirstSteps => "Todavía no hay ningún sitio. Tres pasos, y llega el primer correo de la mañana:";

    public override string FirstSite => "Crear el primer sitio";

    public override string FirstFeed => "Elegir su fuente del tiempo";

    public override string FirstBed => "Crear la primera cama";

    public override string NoSitesForYou => "Aún no hay ningún sitio que puedas ver. Quien coordina puede cambiarlo.";

    public override string BedNew => "Crear una cama";

    public override string BedEdit => "Cambiar esta cama";

    public override string BedChoose => "Elegir";

    public override string BedNothing => "nada";

    public override string BedName => "Nombre";

    public override string BedSpecies => "Especie";

    public override string BedArea => "Suelo que cubre";

    public override string BedInoculated => "Día en que se siembra el micelio";

    public override string BedLayers => "Relleno, de abajo arriba";

    public override string BedLayersHint => "Espesores asentados. El resto queda vacío. Lo que se añade después es una anotación del diario.";

    public override string BedLayer(int number) => $"Capa {Number(number)}";

    public override string BedDepth => "Espesor";

    public override string BedLaidOn => "Puesta el día";

    public override string BedShadeHint => "Parte del sol que no llega; vacío si llega todo.";

    public override string BedCover => "Cubierta en ese día";

    public override string BedMore => "Más, si se sabe";

    public override string BedThroughfall => "Lluvia que llega";

    public override string BedThroughfallHint => "Bajo árboles o aleros. Vacío: toda.";

    public override string BedWetness => "Agua en ese día";

    public override string BedWetnessHint => "De lo que el relleno retiene tras escurrir. Vacío: lleno.";

    public override string BedSpawn => "Micelio usado";

    public override string BedSpawnHint => "Vacío: lo habitual de la especie.";

    public override string BedRunOn => "Agua que llega de los lados";

    public override string BedRunOnHint => "1 si el suelo no junta nada. Vacío: 1.";

    public override string BedSunOffset => "Calor del sol";

    public override string BedSunOffsetHint => "Sobre la media del aire del día, a cielo abierto. Vacío: 0.";

    public override string BedRetired => "Ya no se vigila desde";

    public override string BedRetiredHint => "Vacío mientras se vigila. Su diario se guarda.";

    public override string BedStays => "Una cama se queda donde está; en el otro sitio hay que crear otra.";

    public override string BedNoSuchSite => "No existe ese sitio.";

    public override string BedLoggedBefore => "El diario tiene anotaciones anteriores a ese día. Primero hay que deshacerlas o corregirlas.";

    public override string BedRetiredBefore => "Es anterior a la siembra.";

    public override string BedMulchOfWhat => "Hace falta si hay acolchado.";

    public override string BedLaidLater => "Es posterior a la siembra, o demasiado antiguo. Los rellenos posteriores son anotaciones del diario.";

    public override string BedCautions => "Antes de llenarla";
}
