using System.Globalization;
using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Operating;

/// <summary>Prints a reading as a table of fixed columns, and what is to be said of it.</summary>
internal static class FeedTable
{
    private const int Width = 22;

    public static void Write(TextWriter output, FeedReading reading, IReadOnlyList<FeedProblem> transferred)
    {
        var days = TrialDays.Of(reading);
        output.WriteLine();
        output.WriteLine($"{"day",-10}  {"highest",-Width}{"lowest",-Width}{"mean",-Width}{"rain",-Width}{"humidity",-Width}from");
        foreach (var day in days)
        {
            output.WriteLine(string.Create(
                CultureInfo.InvariantCulture,
                $"{day.Date:uuuu-MM-dd}  {Cell(day.Tmax, "°C"),-Width}{Cell(day.Tmin, "°C"),-Width}{Cell(day.Tmean, "°C"),-Width}{Cell(day.Rain, "mm"),-Width}{Cell(day.Humidity, "%"),-Width}{Source(day)}"));
        }

        output.WriteLine();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{days.Count} days{(reading.Members.Count > 0 ? $", {reading.Members.Count} members: the middle one is shown" : "")}"));
        if (days.Any(day => new[] { day.Tmax, day.Tmin, day.Tmean, day.Rain, day.Humidity }.Any(value => value is { Complete: false })))
            output.WriteLine("(n %): incomplete, so much of the day; it does not count");
        foreach (var (first, last) in TrialDays.Gaps(days))
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"gap: {first:uuuu-MM-dd} to {last:uuuu-MM-dd}"));
        foreach (var note in transferred.Concat(reading.Notes))
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"note: {note.Code}, {note.Count} times: {OneLine(note.Sentence, 300)} ({OneLine(note.Place, 120)})"));
    }

    public static void WritePlace(TextWriter output, AnswerPlace? place, FeedSite site)
    {
        if (place?.KmFrom(site.Latitude, site.Longitude) is > AnswerPlace.FarKm and var km)
            output.WriteLine($"note: {Words.For("en").FeedsWarning(new TrialWarning(TrialWarning.Far, km, place))}");
        if (place?.Elevation is { } height && site.Elevation is { } own && Math.Abs(height - own) > AnswerPlace.HighMetres)
            output.WriteLine($"note: {Words.For("en").FeedsWarning(new TrialWarning(TrialWarning.Height, Math.Abs(height - own), place))}");
    }

    /// <summary>Foreign text for a terminal: one line, and nothing in it that steers the terminal.</summary>
    public static string OneLine(string text, int longest)
    {
        var plain = new string([.. text.Select(c => char.IsControl(c) ? ' ' : c)]);
        return plain.Length <= longest ? plain : plain[..longest] + "…";
    }

    private static string Cell(TrialValue? value, string unit)
    {
        if (value is null)
            return "unknown";
        var part = value.Complete ? "" : string.Create(CultureInfo.InvariantCulture, $" ({100 * value.Coverage:0} %)");
        var raw = value.Raw is [var one] ? $" [{OneLine(Words.FeedsRaw(one), 12).Replace('\u00a0', ' ')}]" : "";
        return string.Create(CultureInfo.InvariantCulture, $"{value.Value:0.0} {unit}{part}{raw}");
    }

    private static string Source(TrialDay day) => day.From == Model.Weather.Provenance.Forecast ? "forecast" : "past";
}
