namespace FruitWatch.Feeds.Describing;

/// <summary>A quantity of a day.</summary>
internal enum Quantity
{
    Tmax,
    Tmin,
    Tmean,
    Rain,
    Humidity,
}

/// <summary>How the values of a day become one.</summary>
internal enum Reduce
{
    Max,
    Min,
    Mean,
    Sum,
}

/// <summary>To which day a value belongs whose period crosses midnight.</summary>
internal enum Assign
{
    /// <summary>Split by the hours of overlap.</summary>
    Spread,

    /// <summary>Whole, to the day of the period's middle.</summary>
    Midpoint,

    /// <summary>Whole, to the day in which the period ends.</summary>
    End,

    /// <summary>Whole, and only if the period lies inside one day.</summary>
    Within,
}

/// <summary>How one quantity of a local day is made from the series.</summary>
/// <param name="Quantity">What is made.</param>
/// <param name="From">The series it is made from, all together.</param>
/// <param name="Reduce">How they become one value.</param>
/// <param name="Assign">How a value finds its day; null leaves it to what the series stands for.</param>
/// <param name="MinCoverage">The part of the day that must be known for the day to count as complete. 0…1</param>
internal sealed record DailyDescription(
    Quantity Quantity, IReadOnlyList<SeriesDescription> From, Reduce Reduce, Assign? Assign, double MinCoverage)
{
    // What the shipped descriptions use: an hour or two may be missing from extremes, hardly one from a total.
    private const double UsualMinCoverage = 0.9;
    private const double UsualMinCoverageOfRain = 0.95;

    private static readonly Dictionary<string, (Quantity Quantity, Reduce Reduce, UnitQuantity Unit)> Quantities = new()
    {
        ["tmax"] = (Quantity.Tmax, Reduce.Max, UnitQuantity.Temperature),
        ["tmin"] = (Quantity.Tmin, Reduce.Min, UnitQuantity.Temperature),
        ["tmean"] = (Quantity.Tmean, Reduce.Mean, UnitQuantity.Temperature),
        ["rain"] = (Quantity.Rain, Reduce.Sum, UnitQuantity.Depth),
        ["humidity"] = (Quantity.Humidity, Reduce.Mean, UnitQuantity.Share),
    };

    public static IReadOnlyList<DailyDescription> All(DescriptionPlace place, IReadOnlyList<SeriesDescription> series)
    {
        place.Object([.. Quantities.Keys]);
        if (place.Members().Count == 0)
            place.Refuse("No quantity of the day is described.", "Add at least one of tmax, tmin, tmean, rain, humidity.");
        var all = place.Members()
            .Where(member => Quantities.ContainsKey(member.Name))
            .Select(member => One(member.Name, member.Place, series)).OfType<DailyDescription>().ToList();
        var used = all.SelectMany(one => one.From).ToList();
        if (used.Any(one => one.Members is null) && used.Any(one => one.Members is not null))
            place.Refuse("Some series have members and some have none.", "Give members to all of them, or to none.");
        return all;
    }

    private static DailyDescription? One(string name, DescriptionPlace place, IReadOnlyList<SeriesDescription> series)
    {
        if (!place.Object("from!", "reduce!", "assign", "minCoverage"))
            return null;
        var wanted = Quantities[name];
        var from = new List<SeriesDescription>();
        foreach (var item in place.Items("from", 4))
        {
            var source = item.AsText();
            if (series.FirstOrDefault(one => one.Name == source) is not { } found)
            {
                if (item.IsClean && series.Count > 0)
                    item.Refuse($"There is no series \"{FailureDescription.Quoted(source)}\".", "Name one that is described under series.");
                continue;
            }
            if (found.Unit.Quantity != wanted.Unit)
                item.Refuse($"\"{source}\" is in {found.Unit.Code}, which is no unit for {name}.", "Name another series, or correct its unit.");
            from.Add(found);
        }
        if (place.Member("from") is { IsClean: true } list && list.Element.GetArrayLength() == 0)
            list.Refuse("No series is named.", "Name at least one.");
        var reduce = place.Word("reduce", wanted.Reduce, "max", "min", "mean", "sum");
        if (reduce != wanted.Reduce)
            place.Refuse("reduce", $"{name} of a day is not made this way.", $"Write \"{WordOf(wanted.Reduce)}\".");
        Assign? assign = place.Member("assign") is null
            ? null
            : place.Word("assign", Describing.Assign.Midpoint, "spread", "midpoint", "end", "within");
        CheckAssign(place, from, reduce, assign);
        return new DailyDescription(wanted.Quantity, from, reduce, assign, ReadMinCoverage(place, wanted.Quantity));
    }

    private static void CheckAssign(DescriptionPlace place, List<SeriesDescription> from, Reduce reduce, Assign? assign)
    {
        if (!place.IsClean)
            return;
        if (assign == Describing.Assign.Spread && reduce is Reduce.Max or Reduce.Min)
            place.Refuse("assign", "An extreme cannot be split between two days.", "Write midpoint, end or within.");
        foreach (var one in from)
        {
            if (reduce == Reduce.Sum && one.Support == Support.Instant)
                place.Refuse(
                    "from",
                    $"\"{one.Name}\" is a reading of a moment, and moments do not add up.",
                    "Give it the support preceding, following, day or counter.");
        }
    }

    private static double ReadMinCoverage(DescriptionPlace place, Quantity quantity)
    {
        if (place.Member("minCoverage") is not { } at)
            return quantity == Quantity.Rain ? UsualMinCoverageOfRain : UsualMinCoverage;
        var share = at.AsNumber();
        if (share is < 0 or > 1)
            at.Refuse("A share lies between 0 and 1.", "Write for example 0.9.");
        return share;
    }

    private static string WordOf(Reduce reduce) => reduce switch
    {
        Reduce.Max => "max",
        Reduce.Min => "min",
        Reduce.Mean => "mean",
        _ => "sum",
    };
}
