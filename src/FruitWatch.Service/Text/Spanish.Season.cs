using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Season;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class Spanish
{
    private const string MoreYears =
        "Para añadir años, entregar un archivo con el tiempo diario de años pasados (temperatura máxima y mínima, lluvia) como fuente histórica del sitio.";

    public override string SeasonTitle => "Cuándo empezar una cama aquí";

    public override string SeasonLink => "Cuándo empezar una cama aquí";

    public override string SeasonFormTitle => "La cama que se planea";

    public override string SeasonMaterial => "Rellena de";

    public override string SeasonUsualMaterial => "lo habitual de cada especie";

    public override string SeasonDepth => "Espesor";

    public override string SeasonShade => "Sombra";

    public override string SeasonMulchDepth => "Espesor del acolchado";

    public override string SeasonMulch => "Acolchado";

    public override string SeasonNoMulch => "ninguno";

    public override string SeasonCover => "Sobre la cama, todo el tiempo";

    public override string SeasonSpecies => "Especies";

    public override string SeasonAllSpecies => "Sin marcar ninguna: todas.";

    public override string SeasonMore => "Especies, acolchado, cubierta";

    public override string SeasonShow => "Planear";

    public override string SeasonNotShown => "Aún sin plan:";

    public override string SeasonNumberBetween(double low, double high, string unit) => unit.Length > 0
        ? $"Indicar un número de {Number(low, 2)} a {Number(high)}\u00a0{unit}."
        : $"Indicar un número de {Number(low, 2)} a {Number(high)}.";

    public override string SeasonOneOf(string given, IEnumerable<string> known) => $"No se conoce «{given}». Indicar uno de estos: {string.Join(", ", known)}.";

    public override string SeasonMulchUnnamed => "Decir de qué es el acolchado, o no darle espesor.";

    public override string SeasonBasisTitle => "En qué se apoya";

    public override string SeasonRestsOn(LocalDate first, LocalDate last, int mostYears) =>
        $"En el tiempo medido en este sitio del {LongDate(first)} al {LongDate(last)}; sin pronóstico. Para cada semana del año se hace una cama en cada año pasado que alcanza 500 días más, {Years(mostYears)} como máximo, y se la sigue con el tiempo de ese año.";

    public override string SeasonCareful =>
        $"Cada una está en manos cuidadosas: empapada al hacerla, {WaterDepth(2)} ({WaterPerArea(2)}) de agua al día la primera semana y un día sí y otro no la segunda, y después llena de nuevo cada mañana en que bajó de su límite de riego. Nadie la cubre, la destapa ni la empapa para provocar primordios. A una cama olvidada dos semanas le va peor.";

    public override string SeasonCounting(int mostYears) => mostYears == 1
        ? "Un solo año pasado dice lo que pasó una vez. Si es lo habitual, nadie lo puede decir con él."
        : $"«{SeasonKOfN(mostYears, mostYears)}» significa: de tantos años pasados, en tantos hubo una primera cosecha en 12 meses. Con {Years(mostYears)} lo más fino que se puede decir con honradez es uno de cada {Number(mostYears)}: el año que viene puede ser uno que no está entre ellos.";

    public override string SeasonNote(PlannerNote note)
    {
        var n = note.Numbers;
        return note.Code switch
        {
            PlannerNoteCode.NoWholeRun => n[0] == 0
                ? $"No se conoce nada medido del tiempo de este sitio, y hay que seguir una cama durante {Number(n[1])} días. {MoreYears}"
                : $"El tiempo medido de este sitio abarca {Days(n[0])}, muy poco para seguir una cama durante {Number(n[1])} días. {MoreYears}",
            PlannerNoteCode.WeatherStops => $"El tiempo se usa solo hasta el hueco del {LongDate(note.Day!.Value)}, {Days(n[0])}: esa época del año nunca se midió y nada puede completarla. {MoreYears}",
            PlannerNoteCode.OneYearOnly => $"Solo se puede seguir un año pasado, en {Number(n[0])} de las 52 semanas: dice lo que pasó una vez, no lo habitual. {MoreYears}",
            PlannerNoteCode.WeeksWithoutYears => $"En {Number(n[0])} de las {Number(n[1])} semanas no se puede seguir ningún año pasado hasta el final, y de ellas no se dice nada. {MoreYears}",
            PlannerNoteCode.RunsLeftOut => $"{(n[0] == 1 ? "Se dejó fuera una cama pasada" : $"Se dejaron fuera {Number(n[0])} camas pasadas")} porque falta más de una décima parte del tiempo; quedan {Number(n[1])}.",
            PlannerNoteCode.DaysFilled => $"{Number(n[0])} de {Days(n[1])} de tiempo no se midieron del todo y se completaron con los días vecinos o con lo habitual.",
            _ => throw new ArgumentOutOfRangeException(nameof(note), note.Code, null),
        };
    }

    public override string SeasonGlanceTitle => "De un vistazo";

    public override string SeasonSuits => "Cosecha en 12 meses";

    public override string SeasonBestStart => "Mejor semana para empezar";

    public override string SeasonFirstPick => "Primera cosecha";

    public override string SeasonWater => "Agua en 12 meses";

    public override string NameOf(SiteFit fit) => fit switch
    {
        SiteFit.EveryYear => "todos los años",
        SiteFit.Often => "a menudo",
        SiteFit.Seldom => "pocas veces",
        SiteFit.Never => "nunca",
        SiteFit.NotKnown => "no se sabe",
        _ => throw new ArgumentOutOfRangeException(nameof(fit), fit, null),
    };

    public override string SeasonFit(SiteFit fit, int picked, int years) => fit switch
    {
        SiteFit.EveryYear => $"Por lo que {(years == 1 ? "puede" : "pueden")} decir {Years(years)}, va bien en este sitio: empezando en su mejor semana, en {SeasonKOfN(picked, years)} hubo una primera cosecha en 12 meses.",
        SiteFit.Often => $"A menudo va bien en este sitio: incluso empezando en su mejor semana, solo en {SeasonKOfN(picked, years)} hubo una primera cosecha en 12 meses.",
        SiteFit.Seldom => $"Pocas veces va bien en este sitio: incluso empezando en su mejor semana, solo en {SeasonKOfN(picked, years)} hubo una primera cosecha en 12 meses.",
        SiteFit.Never => "Sea cual sea la semana, ningún año pasado dio una primera cosecha en 12 meses.",
        SiteFit.NotKnown => "No se sabe si va bien en este sitio: no se puede seguir ningún año pasado.",
        _ => throw new ArgumentOutOfRangeException(nameof(fit), fit, null),
    };

    public override string SeasonKOfN(int picked, int years) => $"{Number(picked)} de {Years(years)}";

    public override string SeasonBetween(LocalDate first, LocalDate last, LocalDate start) => first == last
        ? $"hacia el {InYear(first, start)}"
        : first.Year == last.Year && first.Year != start.Year ? $"del {ShortDate(first)} al {InYear(last, start)}" : $"del {InYear(first, start)} al {InYear(last, start)}";

    public override string SeasonWaterings(int waterings, double litres) => $"{Number(waterings)}\u00a0{(waterings == 1 ? "riego" : "riegos")}, {WaterPerArea(litres)}";

    public override string SeasonStart(LocalDate start, int picked, int years, (LocalDate First, LocalDate Last) picks, int waterings, double litres)
    {
        var between = picks.First == picks.Last
            ? $"hacia el {InYear(picks.First, start)}"
            : $"entre el {(picks.First.Year == picks.Last.Year ? ShortDate(picks.First) : InYear(picks.First, start))} y el {InYear(picks.Last, start)}";
        return $"Empezar en la semana del {ShortDate(start)}: en {SeasonKOfN(picked, years)} hubo una primera cosecha en 12 meses, {between}; {SeasonWaterings(waterings, litres)}.";
    }

    public override string SeasonIn(Material material, double depth) => $"{SeasonMaterial}: {LayerOf(material, depth)}";

    public override string SeasonOtherWeeks => "Casi igual de buenas";

    public override string SeasonStripTitle => "Todas las semanas del año para empezar";

    public override string SeasonStripSaid(LocalDate best, int picked, int years, int everyYear, int never, int unknown) =>
        $"La mejor es la semana del {ShortDate(best)}, {SeasonKOfN(picked, years)}. Con cosecha todos los años: {Weeks(everyYear)}{(never > 0 ? $"; ningún año: {Weeks(never)}" : "")}{(unknown > 0 ? $"; no se sabe: {Weeks(unknown)}" : "")}.";

    public override string SeasonStripUnknown => "No se sabe nada de ninguna semana.";

    public override string SeasonChance => "Probabilidad de cosecha en 12 meses";

    public override string SeasonNoYearPicked => "En ningún año pasado";

    public override string SeasonNotKnown => "No se sabe";

    public override string SeasonBestWeeks => "Mejores semanas";

    public override string SeasonThisWeek => "hoy";

    public override string SeasonWait => "Meses hasta la primera cosecha: la mitad de los años hasta el punto, casi todos dentro de la línea";

    public override string SeasonStartColumn => "Semana del";

    public override string SeasonYearsColumn => "Años con cosecha";

    public override string SeasonHalfBy => "Primera cosecha, la mitad de los años hasta el";

    public override string SeasonWateringsColumn => "Riegos";

    public override string SeasonLitresColumn => $"Agua, {PerAreaSign}";

    public override string SeasonFailuresColumn => "Por qué no";

    public override string SeasonMonthsTitle => "Meses con primordios";

    public override string SeasonMonthsSaid(IReadOnlyList<string> months, double share) => $"El {Percent(share)} de los primordios salió en {Listed(months)}.";

    public override string SeasonNoPins => "No salieron primordios.";

    public override string SeasonMonthColumn => "Mes";

    public override string SeasonPinsColumn => "Parte de los primordios";

    public override string SeasonFailuresTitle => "Por qué fallaron camas";

    public override string SeasonFailed(int failed, int beds) => failed == 0
        ? $"De las {Number(beds)} camas probadas, en todas las semanas y años, ninguna se quedó sin cosecha en 12 meses."
        : $"De las {Number(beds)} camas probadas, en todas las semanas y años, {Number(failed)} no dieron cosecha en 12 meses:";

    public override string NameOf(NoPickReason reason) => reason switch
    {
        NoPickReason.HeatHarmedSpawn => "el calor dañó el micelio",
        NoPickReason.SpawnRunNotDone => "la incubación no había terminado",
        NoPickReason.TooYoung => "incubada, pero más joven de lo que nunca fructifica",
        NoPickReason.WaitedForSoak => "lista, pero no llegó un buen remojo",
        NoPickReason.WaitedForFrost => "lista, pero hubo pocas noches de helada",
        NoPickReason.WaitedForCooling => "lista, pero no llegó un descenso de temperatura",
        NoPickReason.TooWarmToPin => "lista, pero demasiado calor para los primordios",
        NoPickReason.TooColdToPin => "lista, pero demasiado frío para los primordios",
        NoPickReason.PinningFailed => "los primordios empezaron y se malograron",
        NoPickReason.FlushLostToFrost => "la helada se llevó la oleada",
        NoPickReason.FlushLostToDrought => "la sequía se llevó la oleada",
        NoPickReason.FlushLostToWet => "el exceso de agua se llevó la oleada",
        NoPickReason.FlushLostToCold => "el frío se llevó la oleada",
        NoPickReason.FlushLostToHeat => "el calor se llevó la oleada",
        NoPickReason.OnItsWay => "en camino al cumplirse los 12 meses",
        _ => throw new ArgumentOutOfRangeException(nameof(reason), reason, null),
    };

    public override string SeasonBeds(int beds) => $"{Number(beds)} {(beds == 1 ? "cama" : "camas")}";

    public override string SeasonNeverTitle(int species) => $"Sin cosecha aquí en 12 meses: {Number(species)} {(species == 1 ? "especie" : "especies")}";

    public override string SeasonNeverSaid => "Unos pocos años pasados no demuestran que no pueda ser. Otro material, espesor, sombra o cubierta puede cambiarlo.";

    public override string SeasonSlow => "Es lenta más que inadecuada: según el modelo, su incubación tarda aquí más de 12 meses, y el modelo puede ser demasiado lento para ella.";

    public override string SeasonLater(int beds, int all) => $"En 500 días la dieron {Number(beds)} de {Number(all)} camas.";

    public override string SeasonEatingTitle => "Antes de comer ninguna";

    public override IReadOnlyList<string> SeasonEating =>
    [
        "Un plan nunca dice que una seta sea segura, y sembrar una cama no identifica lo que sale en ella: en las camas abiertas salen otros hongos.",
        "Identificar cada seta con certeza antes de comerla. Descartar las parecidas peligrosas de la especie: están plegadas debajo de cada una.",
        "Hacer una esporada y, en caso de duda, preguntar a una persona experta de la zona. Lo dudoso no se come.",
        "Cocinar antes de comer, y probar primero una porción pequeña.",
        "Antes de vender o regalar lo cosechado: cumplir la normativa alimentaria local y su inspección.",
    ];

    public override string SeasonMaterialsTitle => "Antes de llenar una cama";

    public override IReadOnlyList<string> SeasonMaterialCautions(IReadOnlyCollection<string> materials)
    {
        List<string> cautions = [];
        if (HoldsAny(materials, "composted-manure"))
            cautions.Add("El estiércol crudo y el compost sin terminar llevan gérmenes: usar solo lo bien compostado, y poner las camas lejos del ganado y de sus escurrimientos.");
        if (HoldsAny(materials, "hardwood-chips", "sawdust"))
            cautions.Add("Madera: nunca tratada, pintada, aglomerada ni de traviesas, ni astillas del borde de carreteras.");
        if (HoldsAny(materials, "cereal-straw"))
            cautions.Add("Paja: preguntar con qué se trató.");
        if (HoldsAny(materials, "shredded-leaves", "leaf-mould"))
            cautions.Add("Hojas: no del borde de carreteras ni de donde se haya fumigado.");
        cautions.Add("El material seco suelta polvo de moho: mojarlo antes y llevar una mascarilla bien ajustada. Las cargas mojadas pesan: levantarlas entre dos.");
        cautions.Add("Preguntar antes de plantar una especie que no es autóctona. Las normas locales sobre alimentos, agua y suelo abierto van primero.");
        return cautions;
    }

    private static string Listed(IReadOnlyList<string> items) =>
        items.Count == 1 ? items[0] : $"{string.Join(", ", items.SkipLast(1))} y {items[^1]}";

    private string LongDate(LocalDate date) => date.ToString("d 'de' MMMM 'de' uuuu", Culture);

    private string InYear(LocalDate date, LocalDate start) => date.Year == start.Year ? ShortDate(date) : LongDate(date);

    private string Years(int years) => $"{Number(years)} {(years == 1 ? "año" : "años")}";

    private string Weeks(int weeks) => $"{Number(weeks)} {(weeks == 1 ? "semana" : "semanas")}";
}
