using System.Globalization;
using FruitWatch.Feeds.Describing;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>What must hold of whatever the reader gives, however broken the answer was.</summary>
internal static class Believable
{
    /// <summary>What does not hold, or null.</summary>
    public static string? Fault(FeedDescription description, FeedReading reading, LocalDate today)
    {
        var last = description.Provides == FeedProvides.History ? today : today.PlusDays((description.Expect.Ahead ?? 35) + 2);
        for (var i = 0; i < reading.Days.Count; i++)
        {
            var day = reading.Days[i];
            if (Fault(description, day, last) is { } fault)
                return $"{day}: {fault}";
            if (i > 0 && (reading.Days[i - 1].Date, reading.Days[i - 1].Member ?? "") is var before
                && (before.Date > day.Date || (before.Date == day.Date && string.CompareOrdinal(before.Item2, day.Member ?? "") >= 0)))
                return $"{day} does not follow the day before it in the list";
        }
        if (reading.Days.Count == 0)
            return "no days, and yet no refusal";
        if (reading.Notes.Count > 400)
            return $"{reading.Notes.Count} notes";
        return reading.Notes.Select(Fault).FirstOrDefault(fault => fault is not null);
    }

    /// <summary>What is wrong with a refusal, or null.</summary>
    public static string? Fault(FeedException refusal)
    {
        if (!FeedCodes.All.Contains(refusal.Code))
            return $"unknown code {refusal.Code}";
        if (refusal.Sentence.Length == 0 || refusal.Place.Length == 0 || refusal.Mend.Length == 0)
            return "nothing said of what, where or the mend";
        if (!refusal.Message.Contains(refusal.Place, StringComparison.Ordinal) || !refusal.Message.Contains(refusal.Mend, StringComparison.Ordinal))
            return "the message lacks the place or the mend";
        return refusal.Message.Any(char.IsControl) ? "a control character in the message" : refusal.Message.Length > 1500 ? "a message without end" : null;
    }

    private static string? Fault(FeedDescription description, FeedDay day, LocalDate last)
    {
        if (day.Date > last || day.Date < new LocalDate(1699, 1, 1))
            return "a date out of bounds";
        if (day.Tmin?.Value > day.Tmax?.Value + 0.5)
            return "the minimum above the maximum";
        foreach (var daily in description.Daily)
        {
            var value = daily.Quantity switch
            {
                Quantity.Tmax => day.Tmax,
                Quantity.Tmin => day.Tmin,
                Quantity.Tmean => day.Tmean,
                Quantity.Rain => day.Rain,
                _ => day.Humidity,
            };
            if (value is not null && Fault(daily, value) is { } fault)
                return $"{daily.Quantity}: {fault}";
        }
        return null;
    }

    private static string? Fault(DailyDescription daily, FeedValue value)
    {
        if (!double.IsFinite(value.Value) || !(value.Coverage is >= 0 and <= 1))
            return "not a number, or not a share";
        if (value.Complete != value.Coverage >= daily.MinCoverage - 1e-6)
            return "complete does not follow from the coverage";
        if (daily.Quantity == Quantity.Rain && value.Value is < 0 or > 2000)
            return "rain below zero or beyond any record";
        // -100 and 100 are the widest limits a description may set.
        if (daily.Quantity is not Quantity.Rain && value.Value is < -100 or > 100)
            return "beyond the widest limits";
        return null;
    }

    /// <summary>What is wrong with the explanation of a reading, or null: no value rests on nothing.</summary>
    public static string? FaultOfExplanation(FeedDescription description, FeedReading reading)
    {
        var counter = description.Series.Any(series => series.Support == Support.Counter);
        foreach (var day in reading.Days)
        {
            foreach (var value in new[] { day.Tmax, day.Tmin, day.Tmean, day.Rain, day.Humidity }.OfType<FeedValue>())
            {
                if (value.Raw.Count == 0 || value.Raw.Any(raw => string.IsNullOrWhiteSpace(raw.Text) || raw.Place.Length == 0 || raw.Time.Length == 0))
                    return $"{day.Date}: a value rests on nothing";
            }
            if (!counter && day.Rain is { } rain && rain.Value > rain.Raw.Sum(raw => Depth(description, raw)) + 1e-6)
                return $"{day.Date}: more rain than the answer has";
        }
        return null;
    }

    private static double Depth(FeedDescription description, RawValue raw)
    {
        var text = description.Form.DecimalSign == ',' ? raw.Text.Replace(',', '.') : raw.Text;
        return double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var number)
            ? Math.Max(0, Unit.ByCode(raw.Unit)!.ToModel(number * raw.Scale))
            : 0;
    }

    private static string? Fault(FeedProblem note) =>
        !FeedCodes.All.Contains(note.Code) || note.Sentence.Length == 0 || note.Place.Length == 0 || note.Count < 1
        || note.Sentence.Any(char.IsControl) || note.Sentence.Length > 1500
            ? $"the note {note}"
            : null;
}
