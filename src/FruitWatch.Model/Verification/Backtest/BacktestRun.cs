using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Futures;
using FruitWatch.Model.Learning;
using NodaTime;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>
/// Replays past years: beds that differ from the catalogue in ways unknown to the forecaster live through the weather that came,
/// their growers look after them and write down what they see, and on every so many mornings an outlook is issued from what was
/// known that morning.
/// </summary>
/// <remarks>
/// The bed model forecasts beds that follow the bed model: what is tested is what forecasts of weather, the drift of the account,
/// the log and learning make of it. How well real beds follow the model, only real logs can tell.
/// </remarks>
public static class BacktestRun
{
    /// <summary>Length of an outlook. [d]</summary>
    public const int OutlookDays = 40;

    /// <summary>Days for which outlooks of a bed are issued. [d]</summary>
    public const int BedDays = 400;

    private const int FewestBedDays = 240; // a bed that lives shorter has hardly seen its first flush
    private const int BedDraws = 12;
    private const int FirstWeek = 7; // the rule of thumb looks back so far

    /// <summary>Runs it.</summary>
    /// <param name="setting">What to replay.</param>
    /// <exception cref="ArgumentException">The setting cannot be, or the weather is too short for any bed.</exception>
    public static BacktestResult Run(BacktestSetting setting)
    {
        ArgumentNullException.ThrowIfNull(setting);
        setting.Check();
        var options = new ParallelOptions { MaxDegreeOfParallelism = setting.Threads == 0 ? Environment.ProcessorCount : setting.Threads };
        var weather = SiteForcing.Of(setting.Weather, setting.Ladder);
        var starts = Starts(setting);
        if (starts.Count == 0)
            throw new ArgumentException(FormattableString.Invariant($"No bed finds {FewestBedDays} days of weather; give more years."));

        // Every bed and every morning has a place of its own: number and order of the threads leave no trace.
        var beds = new TrueBed[starts.Count];
        Parallel.For(0, beds.Length, options, i => beds[i] = Live(setting, i, starts[i], weather));

        int[] days =
        [
            .. Enumerable.Range(FirstWeek, setting.Weather.Count - FirstWeek)
                .Where(day => day % setting.Every == 0 && Alive(beds, setting.Weather[day].Date).Any()),
        ];
        var mornings = new BacktestMorning[days.Length];
        Parallel.For(0, days.Length, options, () => new BedLearning(setting.Catalogue), (i, _, learning) =>
        {
            mornings[i] = BacktestMorning.Issue(setting, days[i], [.. Alive(beds, setting.Weather[days[i]].Date)], learning);
            return learning;
        }, _ => { });

        return new BacktestResult(
            beds.Length,
            mornings.Length,
            mornings.Sum(morning => morning.Beds.Count(issued => IsScored(beds[issued.Bed], morning.Issued))),
            beds.Sum(bed => bed.PinsCount),
            BacktestCases.Of(setting, beds, mornings, outlook => outlook.Learned),
            BacktestCases.Of(setting, beds, mornings, outlook => outlook.KeptMoist),
            BacktestCases.Of(setting, beds, mornings, outlook => outlook.Unlearned));
    }

    /// <summary>Whether pins can be forecast: a bed that shows them, or that is spent, has none to wait for.</summary>
    internal static bool IsScored(TrueBed bed, LocalDate issued) =>
        bed.PhaseOn(issued.PlusDays(-1)) is not (Phase.Growing or Phase.Picking or Phase.Spent);

    private static IEnumerable<TrueBed> Alive(TrueBed[] beds, LocalDate morning) => beds.Where(bed =>
        bed.Known.Inoculated < morning && morning <= bed.LastDay && Period.DaysBetween(bed.Known.Inoculated, morning) <= BedDays);

    /// <summary>Beds of each species and year, spring and autumn in turn, as far as the weather lets them live.</summary>
    private static List<(Species Species, LocalDate Inoculated, int Days)> Starts(BacktestSetting setting)
    {
        var (first, last) = (setting.Weather[0].Date, setting.Weather[^1].Date);
        var starts = new List<(Species, LocalDate, int)>();
        for (var i = 0; i < setting.Species.Count; i++)
        {
            for (var year = first.Year; year <= last.Year; year++)
            {
                for (var bed = 0; bed < setting.BedsPerYear; bed++)
                {
                    var draws = new Draws(setting.Seed).Stream(BedDraws, (i * 10_000 + year) * 100 + bed);
                    var date = Start(year, bed, setting.Ladder.Latitude).PlusDays(draws.Below(61));
                    var days = Math.Min(Period.DaysBetween(date, last) + 1, BedDays + OutlookDays);
                    if (date >= first && days >= FewestBedDays)
                        starts.Add((setting.Species[i], date, days));
                }
            }
        }

        return starts;
    }

    /// <summary>Beds are made from the middle of March to the middle of May, and in September and October; half a year off in the south.</summary>
    private static LocalDate Start(int year, int bed, double latitude)
    {
        var start = bed % 2 == 0 ? new LocalDate(year, 3, 15) : new LocalDate(year, 9, 1);
        return latitude >= 0 ? start : bed % 2 == 0 ? start.PlusMonths(6) : start.PlusMonths(-6);
    }

    private static TrueBed Live(BacktestSetting setting, int number, (Species Species, LocalDate Inoculated, int Days) start, SiteForcing weather)
    {
        var draws = new Draws(setting.Seed).Stream(BedDraws + 1, number);
        var species = start.Species;
        var material = setting.Catalogue.Materials[species.Materials[draws.Below(species.Materials.Count)]];
        var depth = 0.10 + 0.10 * draws.Uniform();
        var bed = new Bed(species, start.Inoculated, [new Layer(material, depth, start.Inoculated)])
        {
            Shade = 0.3 + 0.6 * draws.Uniform(),
            MulchCm = draws.Below(2) * 3,
            Mulch = setting.Catalogue.Materials["cereal-straw"],
        };
        return TrueBed.Live(number, bed, TrueStrain.Of(species, setting.StrainSpread, draws), weather, start.Days, setting.Catalogue, draws);
    }
}
