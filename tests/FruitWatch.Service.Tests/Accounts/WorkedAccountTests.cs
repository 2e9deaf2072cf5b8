using System.Globalization;

namespace FruitWatch.Service.Tests.Accounts;

/// <summary>The account against one that a second implementation worked out; see Golden/account-example/README.md.</summary>
public class WorkedAccountTests
{
    private static readonly string[] s_words = ["date", "phase", "event", "flushes", "frost_nights"];

    [Fact]
    public void Agrees_with_the_worked_account_on_every_day()
    {
        var printed = Rows(AccountFiles.RunOn(AccountFiles.Golden("seattle-daily.csv"), AccountFiles.Golden("case.json")));
        var worked = Rows(File.ReadAllText(AccountFiles.Golden("account.csv")));

        Assert.Equal(489, worked.Count - 1);
        Assert.Equal(worked.Count, printed.Count);
        Assert.Equal(worked[0], printed[0]);
        for (var row = 1; row < worked.Count; row++)
        {
            for (var column = 0; column < worked[0].Length; column++)
                AssertAgrees(worked[0][column], worked[row][0], worked[row][column], printed[row][column]);
        }
    }

    [Fact]
    public void The_worked_account_passes_through_every_phase_but_the_last()
    {
        var worked = Rows(File.ReadAllText(AccountFiles.Golden("account.csv")));
        var phase = Array.IndexOf(worked[0], "phase");

        Assert.Superset(
            new HashSet<string> { "spawn-run", "ready", "pinning", "growing", "picking", "resting" },
            worked.Skip(1).Select(row => row[phase]).ToHashSet());
    }

    private static void AssertAgrees(string column, string date, string worked, string printed)
    {
        var same = s_words.Contains(column)
            ? worked == printed
            : Math.Abs(Number(worked) - Number(printed)) <= 1e-9;
        Assert.True(same, $"{date}, {column}: worked {worked}, printed {printed}");
    }

    private static List<string[]> Rows(string csv) =>
        [.. csv.ReplaceLineEndings("\n").Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(','))];

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
