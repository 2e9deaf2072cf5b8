using System.Globalization;
using FruitWatch.Model.Verification;
using FruitWatch.Model.Verification.Backtest;

namespace FruitWatch.Service.Operating;

/// <summary>Prints the scores of a backtest as a table of fixed columns.</summary>
internal static class BacktestTable
{
    private const string Header =
        "species         lead  cases   pins   Brier  over clim.  over rule (90 % range)        over rule freq.  hits  misses  false al.  lead time  CRPS";

    /// <summary>Writes one block.</summary>
    /// <param name="output">Where to.</param>
    /// <param name="title">What it is of.</param>
    /// <param name="setting">The backtest.</param>
    /// <param name="cases">Its cases.</param>
    /// <param name="shown">Lead whose reliability is shown. [d]</param>
    public static void Write(TextWriter output, string title, BacktestSetting setting, IReadOnlyList<BacktestCase> cases, int shown)
    {
        output.WriteLine();
        output.WriteLine(title);
        output.WriteLine(Header);
        string?[] species = [.. setting.Species.Select(s => s.Key), null];
        foreach (var key in species)
        {
            foreach (var lead in setting.Leads)
                output.WriteLine(Line(key ?? "all", lead, BacktestResult.Score(cases, lead, key)));
        }

        output.WriteLine();
        output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"reliability, {shown} days, all: chance, share that pins followed, cases"));
        foreach (var c in BacktestResult.Score(cases, shown).Reliability)
            output.WriteLine(string.Create(CultureInfo.InvariantCulture, $"{c.From:F1}-{c.To:F1}  {Text(c.MeanChance, "F3"),6}  {Text(c.Frequency, "F3"),6}  {c.Cases,6}"));
    }

    private static string Line(string name, int lead, PinsScores s)
    {
        var range = s.SkillOverRuleOfThumbRange is { } r ? string.Create(CultureInfo.InvariantCulture, $"({r.Low:F3} to {r.High:F3})") : "(-)";
        return string.Create(
            CultureInfo.InvariantCulture,
            $"{name,-14}  {lead,4}  {s.Cases,5}  {s.Pins,5}  {Text(s.Brier, "F4"),6}  {Text(s.SkillOverClimatology.Value, "F3"),10}  "
            + $"{Text(s.SkillOverRuleOfThumb.Value, "F3"),9} {range,-18}  {Text(s.SkillOverRuleAsFrequency.Value, "F3"),15}  "
            + $"{s.Table.Hits,4}  {s.Table.Misses,6}  {s.Table.FalseAlarms,9}  {Text(s.LeadDays.Value, "F1"),9}  {Text(s.DateCrps.Value, "F2"),4}");
    }

    private static string Text(double? value, string format) => value?.ToString(format, CultureInfo.InvariantCulture) ?? "-";
}
