using FruitWatch.Feeds.Describing;
using FruitWatch.Feeds.Forms;
using NodaTime;

namespace FruitWatch.Feeds.Mapping;

/// <summary>Makes the local days of an answer, member by member, from the slots of its series.</summary>
/// <param name="description">How the quantities of a day are made.</param>
/// <param name="days">The site's civil days.</param>
/// <param name="lastDate">The last day to make; a period that runs over it is cut there.</param>
/// <param name="notes">Where oddities go.</param>
/// <param name="explain">Whether to put beside each value what the answer had.</param>
internal sealed class DayMaker(FeedDescription description, SiteDays days, LocalDate lastDate, NoteBook notes, bool explain)
{
    public List<FeedDay> Make(FeedTable table, IReadOnlyDictionary<SeriesCells, IReadOnlyList<Slot>> slots)
    {
        var all = new List<FeedDay>();
        foreach (var member in table.Series.GroupBy(cells => cells.Member))
        {
            var values = new Dictionary<Quantity, IReadOnlyDictionary<LocalDate, FeedValue>>();
            foreach (var daily in description.Daily)
            {
                var sources = member.Where(cells => daily.From.Contains(cells.Series));
                values[daily.Quantity] = new DayReducer(days, daily, notes, explain).Reduce([.. sources.SelectMany(cells => slots[cells])]);
            }
            all.AddRange(values.Values.SelectMany(byDate => byDate.Keys).Distinct().Where(date => date <= lastDate)
                .Select(date => DayChecks.Believed(DayOf(date, member.Key, values), notes)).OfType<FeedDay>());
        }
        return [.. all.OrderBy(day => day.Date).ThenBy(day => day.Member, StringComparer.Ordinal)];
    }

    private static FeedDay DayOf(
        LocalDate date, string? member, Dictionary<Quantity, IReadOnlyDictionary<LocalDate, FeedValue>> values)
    {
        return new FeedDay(
            date, member, Of(Quantity.Tmax), Of(Quantity.Tmin), Of(Quantity.Tmean), Of(Quantity.Rain), Of(Quantity.Humidity));

        FeedValue? Of(Quantity quantity) => values.GetValueOrDefault(quantity)?.GetValueOrDefault(date);
    }
}
