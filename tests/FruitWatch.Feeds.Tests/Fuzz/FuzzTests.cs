using System.Diagnostics;
using System.Globalization;

namespace FruitWatch.Feeds.Tests.Fuzz;

/// <summary>
/// Broken answers and broken descriptions by the thousand: each is read into believable days or refused with a message, and
/// nothing else happens. <c>FRUITWATCH_FUZZ</c> sets how many, <c>FRUITWATCH_FUZZ_SEED</c> where the draws begin, and
/// <c>FRUITWATCH_FUZZ_REPORT</c> a file for the counts by outcome.
/// </summary>
public sealed class FuzzTests
{
    private const int Usual = 20_000;
    private const int MostFindings = 20;

    // Seconds. A reader that takes so long for some kilobytes hangs; looked at in the long run only.
    private const double TooLong = 5;

    // Bytes allocated: a fixed part for zones, patterns and messages, and a multiple of the body. Measured over two million: never more than 0.2 MB beyond the multiple.
    private const long MostAllocated = 4_000_000;
    private const int MostAllocatedForEachByte = 400;

    [Fact]
    public void Whatever_comes_is_read_or_refused_and_nothing_else()
    {
        var count = int.Parse(Environment.GetEnvironmentVariable("FRUITWATCH_FUZZ") ?? $"{Usual}", CultureInfo.InvariantCulture);
        var seed = int.Parse(Environment.GetEnvironmentVariable("FRUITWATCH_FUZZ_SEED") ?? "1", CultureInfo.InvariantCulture);
        var outcomes = new SortedDictionary<string, int>(StringComparer.Ordinal);
        var findings = new List<string>();
        var (slowest, hungriest) = (0.0, 0L);
        var whole = Stopwatch.StartNew();
        for (var i = 0; i < count && findings.Count < MostFindings; i++)
        {
            var one = new FuzzCase(FuzzCase.AllSamples[i % FuzzCase.AllSamples.Count], unchecked((seed * 1_000_003) + i));
            var outcome = OutcomeOf(one, count > Usual, ref slowest, ref hungriest);
            outcomes[outcome.Name] = outcomes.GetValueOrDefault(outcome.Name) + 1;
            if (outcome.Fault is not null)
                findings.Add($"{one.Sample} {one.Seed}: {outcome.Fault}");
        }
        if (Environment.GetEnvironmentVariable("FRUITWATCH_FUZZ_REPORT") is { } report)
            File.WriteAllLines(report,
            [
                string.Create(CultureInfo.InvariantCulture, $"{outcomes.Values.Sum()} in {whole.Elapsed.TotalSeconds:0} s, slowest {slowest:0.000} s, at most {hungriest} bytes allocated over {MostAllocatedForEachByte} for each byte of the body"),
                .. outcomes.Select(one => $"{one.Value,9} {one.Key}"),
                .. findings,
            ]);
        Assert.Empty(findings);
    }

    internal static (string Name, string? Fault) OutcomeOf(FuzzCase one)
    {
        var (slowest, hungriest) = (0.0, 0L);
        return OutcomeOf(one, watchTime: false, ref slowest, ref hungriest);
    }

    private static (string Name, string? Fault) OutcomeOf(FuzzCase one, bool watchTime, ref double slowest, ref long hungriest)
    {
        FeedDescription description;
        byte[] body;
        try
        {
            (description, body) = one.Make();
        }
        catch (FeedDescriptionException refusal)
        {
            var poor = refusal.Problems.FirstOrDefault(problem => problem.What.Length == 0 || problem.Mend.Length == 0);
            return ("description refused", refusal.Problems.Count == 0 ? "no problem named" : poor is null ? null : $"{poor.Place}: nothing said");
        }
        catch (Exception fault)
        {
            return ("exception", fault.ToString());
        }
        var time = Stopwatch.GetTimestamp();
        var before = GC.GetAllocatedBytesForCurrentThread();
        var explain = one.Seed % 4 == 0;
        var outcome = Read(one, description, body, explain);
        var allocated = GC.GetAllocatedBytesForCurrentThread() - before;
        var seconds = Stopwatch.GetElapsedTime(time).TotalSeconds;
        slowest = Math.Max(slowest, seconds);
        hungriest = Math.Max(hungriest, allocated - ((long)MostAllocatedForEachByte * body.Length));
        if (outcome.Fault is null && allocated > MostAllocated + ((long)MostAllocatedForEachByte * body.Length))
            return ("too much", $"{allocated} bytes allocated for a body of {body.Length}");
        return outcome.Fault is null && watchTime && seconds > TooLong ? ("too long", $"{seconds:0.0} s for {body.Length} bytes") : outcome;
    }

    private static (string Name, string? Fault) Read(FuzzCase one, FeedDescription description, byte[] body, bool explain)
    {
        try
        {
            var reading = one.Read(description, body, explain);
            _ = reading.ToWeather();
            return ("read", Believable.Fault(description, reading, one.Today) ?? (explain ? Believable.FaultOfExplanation(description, reading) : null));
        }
        catch (FeedException refusal)
        {
            return ("refused " + refusal.Code, Believable.Fault(refusal));
        }
        catch (Exception fault)
        {
            return ("exception", fault.ToString());
        }
    }
}
