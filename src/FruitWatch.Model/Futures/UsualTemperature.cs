using FruitWatch.Model.Weather;
using NodaTime;

namespace FruitWatch.Model.Futures;

/// <summary>
/// The usual temperatures of the calendar days and how far single days stray from them. A day's departure is taken from the
/// usual day of the <em>other</em> years: its own would make the spread too small where years are few.
/// </summary>
internal sealed class UsualTemperature
{
    private const int WindowDays = 7;
    private const int FewestDays = 20; // common practice, no source: below that a month's spread is not told apart from chance

    private readonly Means tmax;
    private readonly Means tmin;

    public UsualTemperature(LocalDate first, int days, Dictionary<LocalDate, WeatherDay> observed)
    {
        tmax = new Means(first, days, observed, day => day.Tmax);
        tmin = new Means(first, days, observed, day => day.Tmin);
    }

    public double? Tmax(LocalDate date) => tmax.Usual(date);

    public double? Tmin(LocalDate date) => tmin.Usual(date);

    public double? SdTmax(int month) => tmax.Sd(month);

    public double? SdTmin(int month) => tmin.Sd(month);

    private sealed class Means
    {
        private readonly LocalDate first;
        private readonly double[] sumBefore; // over the first n days
        private readonly int[] countBefore;
        private readonly double?[] usual = new double?[366];
        private readonly double?[] sd = new double?[13];

        public Means(LocalDate first, int days, Dictionary<LocalDate, WeatherDay> observed, Func<WeatherDay, double?> value)
        {
            this.first = first;
            sumBefore = new double[days + 1];
            countBefore = new int[days + 1];
            for (var i = 0; i < days; i++)
            {
                var known = observed.TryGetValue(first.PlusDays(i), out var day) ? value(day) : null;
                sumBefore[i + 1] = sumBefore[i] + (known ?? 0);
                countBefore[i + 1] = countBefore[i] + (known is null ? 0 : 1);
            }

            if (days > 0)
                Work(observed.Values, value, first.PlusDays(days - 1).Year);
        }

        public double? Usual(LocalDate date) => usual[Key(date)];

        public double? Sd(int month) => sd[month];

        private void Work(IEnumerable<WeatherDay> observed, Func<WeatherDay, double?> value, int lastYear)
        {
            var sums = new double[366];
            var counts = new int[366];
            for (var date = new LocalDate(2000, 1, 1); date.Year == 2000; date = date.PlusDays(1))
            {
                var key = Key(date);
                var years = 0;
                // A year more on either side: days around New Year belong to windows of the neighbouring years.
                for (var year = first.Year - 1; year <= lastYear + 1; year++)
                {
                    var (sum, count) = Window(new AnnualDate(date.Month, date.Day).InYear(year));
                    sums[key] += sum;
                    counts[key] += count;
                    years += count > 0 ? 1 : 0;
                }

                usual[key] = years >= 2 ? sums[key] / counts[key] : null;
            }

            var squares = new double[13];
            var days = new int[13];
            foreach (var day in observed)
            {
                var (sum, count) = Window(day.Date);
                var others = counts[Key(day.Date)] - count;
                if (value(day) is not { } known || others == 0)
                    continue;
                var departure = known - (sums[Key(day.Date)] - sum) / others;
                squares[day.Date.Month] += departure * departure;
                days[day.Date.Month]++;
            }

            for (var month = 1; month <= 12; month++)
                sd[month] = days[month] >= FewestDays ? Math.Sqrt(squares[month] / days[month]) : null;
        }

        private (double Sum, int Count) Window(LocalDate centre)
        {
            var i = Period.DaysBetween(first, centre);
            var from = Math.Clamp(i - WindowDays, 0, sumBefore.Length - 1);
            var to = Math.Clamp(i + WindowDays + 1, 0, sumBefore.Length - 1);
            return (sumBefore[to] - sumBefore[from], countBefore[to] - countBefore[from]);
        }

        /// <summary>Place of a calendar day in a leap year, from 0.</summary>
        private static int Key(LocalDate date) => new LocalDate(2000, date.Month, date.Day).DayOfYear - 1;
    }
}
