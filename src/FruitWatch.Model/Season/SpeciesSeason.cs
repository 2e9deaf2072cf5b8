using FruitWatch.Model.Catalogue;

namespace FruitWatch.Model.Season;

/// <summary>Whether a species suits a site, judged by the best of its weeks; to be told with that week's k of n.</summary>
public enum SiteFit : byte
{
    /// <summary>No past year counts.</summary>
    NotKnown,

    /// <summary>Whatever the week of inoculation, no year brought a pick within 12 months.</summary>
    Never,

    /// <summary>The best week brought a pick within 12 months in fewer than half of the years.</summary>
    Seldom,

    /// <summary>The best week brought one in half of the years or more.</summary>
    Often,

    /// <summary>The best week brought one in every year that counts.</summary>
    EveryYear,
}

/// <summary>One species' year at a site: when to start a bed and what came of it in the past.</summary>
public sealed record SpeciesSeason
{
    private const int ShownWeeks = 5;

    internal SpeciesSeason(Species species, Material material, IReadOnlyList<StartWeek> weeks)
    {
        Species = species;
        Material = material;
        Weeks = weeks;
        Ranked =
        [
            .. weeks.Where(week => week.Years > 0)
                // Not by the chance, which is higher for 4 of 4 than for 3 of 3: how far the weather reaches is no merit of a week.
                .OrderByDescending(week => (double)week.Picked / week.Years)
                .ThenBy(week => week.Litres.P50)
                .ThenBy(week => week.Number),
        ];
        var pins = new int[12];
        foreach (var week in weeks)
        {
            for (var month = 0; month < pins.Length; month++)
                pins[month] += week.PinsByMonth[month];
        }

        PinsByMonth = pins;
    }

    /// <summary>The species.</summary>
    public Species Species { get; }

    /// <summary>What its bed was filled with.</summary>
    public Material Material { get; }

    /// <summary>All 52 weeks in the order of the year, those without a year that counts among them.</summary>
    public IReadOnlyList<StartWeek> Weeks { get; }

    /// <summary>Weeks with at least one year that counts: by the share of years with a pick within 12 months, then by the median water to give.</summary>
    public IReadOnlyList<StartWeek> Ranked { get; }

    /// <summary>The first of <see cref="Ranked"/>; null where no year counts.</summary>
    public StartWeek? Best => Ranked.Count == 0 ? null : Ranked[0];

    /// <summary>The first five of <see cref="Ranked"/> that brought a pick within 12 months at all.</summary>
    public IReadOnlyList<StartWeek> BestWeeks => [.. Ranked.Where(week => week.Picked > 0).Take(ShownWeeks)];

    /// <summary>Whether the species suits the site.</summary>
    public SiteFit Fit
    {
        get
        {
            if (Ranked.Count == 0)
                return SiteFit.NotKnown;
            // Not that of the best chance alone: of weeks never picked, the one with fewer years has the higher chance.
            var most = Ranked.Max(week => (double)week.Picked / week.Years);
            return most switch
            {
                0 => SiteFit.Never,
                < 0.5 => SiteFit.Seldom,
                < 1 => SiteFit.Often,
                _ => SiteFit.EveryYear,
            };
        }
    }

    /// <summary>How often pins formed in each month, January first, over all weeks, years and days.</summary>
    public IReadOnlyList<int> PinsByMonth { get; }
}
