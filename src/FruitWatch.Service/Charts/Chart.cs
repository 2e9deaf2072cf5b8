using FruitWatch.Service.Text;
using NodaTime;

namespace FruitWatch.Service.Charts;

/// <summary>
/// A picture of days with a sentence that says what matters in it and a table of all that it shows: whoever cannot see it, or has
/// it read out, misses nothing.
/// </summary>
/// <param name="days">The stretch of days.</param>
/// <param name="words">The language.</param>
internal abstract class Chart(ChartDays days, Words words)
{
    protected ChartDays Days => days;

    protected Words Words => words;

    /// <summary>Key within a page.</summary>
    public abstract string Key { get; }

    public abstract string Title { get; }

    /// <summary>What matters in it, with the numbers.</summary>
    public abstract string Description { get; }

    /// <summary>What its lines and bars are: class of the mark, words.</summary>
    public abstract IReadOnlyList<(string Mark, string Meaning)> Legend { get; }

    public abstract IReadOnlyList<string> Columns { get; }

    public abstract IEnumerable<ChartRow> Rows { get; }

    /// <summary>The size with the room that this chart needs within it.</summary>
    protected virtual ChartSize Within(ChartSize size) => size;

    protected abstract double HeightOf(ChartSize size);

    protected abstract void Draw(ChartFrame frame);

    /// <summary>The picture. Its marks are explained by the legend beside it.</summary>
    public string Draw(ChartSize size)
    {
        size = Within(size);
        var svg = new Svg();
        var id = $"{Key}-{size.Name}";
        var frame = new ChartFrame(svg, id, size, days, words, HeightOf(size));
        svg.Open(
            "svg",
            ("class", $"chart {size.Name}"),
            ("role", "img"),
            ("aria-labelledby", $"{id}-title {id}-desc"),
            ("viewBox", $"0 0 {Svg.Number(size.Width)} {Svg.Number(frame.Height)}"),
            ("width", size.Width),
            ("height", frame.Height));
        svg.Text("title", Title, ("id", $"{id}-title"));
        svg.Text("desc", Description, ("id", $"{id}-desc"));
        frame.DrawBack();
        Draw(frame);
        frame.DrawFront();
        return svg.Close("svg").ToString();
    }
}

/// <summary>The days that a chart shows.</summary>
/// <param name="From">First.</param>
/// <param name="To">Last.</param>
/// <param name="Today">From here on, all is forecast.</param>
internal sealed record ChartDays(LocalDate From, LocalDate To, LocalDate Today)
{
    /// <summary>The last day that rests on a forecast, where past years take over from it; null where nothing comes after it.</summary>
    public LocalDate? LastForecastDay { get; init; }

    /// <summary>First day of past years; null where there is none.</summary>
    public LocalDate? PastYearsFrom => LastForecastDay is { } last && last < To ? LocalDate.Max(last.PlusDays(1), From) : null;

    public bool Holds(LocalDate date) => date >= From && date <= To;

    public bool IsForecast(LocalDate date) => date >= Today && !(date >= PastYearsFrom);
}

/// <summary>A line of a chart's table.</summary>
internal sealed record ChartRow(LocalDate Date, bool Forecast, IReadOnlyList<string> Cells);
