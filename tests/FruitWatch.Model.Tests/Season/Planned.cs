using FruitWatch.Model.Account;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Season;
using FruitWatch.Model.Tests.Account;
using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Tests.Season;

/// <summary>Plans and single runs for a test.</summary>
internal static class Planned
{
    public static readonly LocalDate NewYear = new(2024, 1, 1);

    public static SeasonPlan City(string city, params string[] species) =>
        Plan(Cities.Of(city).Days, Cities.Of(city).Ladder, species);

    public static SeasonPlan Plan(IReadOnlyList<WeatherDay> days, EvaporationLadder ladder, params string[] species) =>
        SeasonPlanner.Plan(days, ladder, [.. species.Select(key => Made.Catalogue.Species[key])], new BedPattern(), Made.Catalogue);

    /// <summary>Just enough days for a bed made on New Year's Day, each as told by its number.</summary>
    public static List<WeatherDay> Days(Func<int, WeatherDay> day) =>
        [.. Enumerable.Range(0, SeasonPlanner.RunDays).Select(i => day(i) with { Date = NewYear.PlusDays(i) })];

    /// <summary>A week's beds of one species, run day by day; each lane with the account of the same bed with the same water.</summary>
    public static (BedAccount Account, List<Lane> Days)[] Run(
        IReadOnlyList<WeatherDay> days, EvaporationLadder ladder, string species, int week, params int[] years)
    {
        var past = PastWeather.Of(days, ladder);
        var trial = new TrialBed(new BedPattern().For(Made.Catalogue.Species[species], Made.Catalogue, TrialBed.Day0), Made.Catalogue, ladder.Latitude);
        int[] starts = [.. years.Select(year => past.IndexOf(StartWeek.StartOf(week, year), SeasonPlanner.RunDays)!.Value)];
        var replay = new Replay(starts.Length, ladder.Latitude);
        replay.Load(past, starts);
        replay.Start(trial);
        var lanes = years.Select(_ => new List<Lane>()).ToArray();
        for (var day = 0; day < SeasonPlanner.RunDays; day++)
        {
            replay.Advance(day);
            for (var lane = 0; lane < lanes.Length; lane++)
            {
                var state = replay.State;
                lanes[lane].Add(new Lane(
                    replay.Given[lane], state.Water[lane], state.BedTemperature[lane], state.SoilTemperature[lane],
                    state.SpawnRun[lane], state.PhaseOf(lane), state.Flushes[lane], state.FrostNights[lane]));
            }
        }

        return [.. lanes.Select((lane, i) => (Account(days, ladder, trial.Bed, StartWeek.StartOf(week, years[i]), lane), lane))];
    }

    private static BedAccount Account(
        IReadOnlyList<WeatherDay> days, EvaporationLadder ladder, Bed bed, LocalDate start, List<Lane> lane)
    {
        var own = bed with { Inoculated = start, Layers = [.. bed.Layers.Select(layer => layer with { Laid = start })] };
        var log = lane.Select((day, i) => new WaterGiven(start.PlusDays(i), day.Given));
        return BedAccount.Run(own, log, SiteForcing.Of(days, ladder), Made.Catalogue, start.PlusDays(SeasonPlanner.RunDays - 1));
    }
}

/// <summary>One year's bed at a day's end.</summary>
internal sealed record Lane(
    double Given, double Water, double Bed, double Soil, double SpawnRun, Phase Phase, int Flushes, int FrostNights);
