using System.Globalization;

namespace FruitWatch.Model.Tests.Verification;

/// <summary>Every value of the check table that the model has a function for.</summary>
public class VerificationCheckTests
{
    private static readonly List<Dictionary<string, string>> s_rows = CheckFile.Read("Verification/verification-checks.csv");

    public static TheoryData<string> Ids => [.. s_rows.Where(row => !IsListed(row)).Select(row => row["id"])];

    [Theory]
    [MemberData(nameof(Ids))]
    public void Agrees_with(string id)
    {
        var row = s_rows.Single(row => row["id"] == id);
        var value = CheckedMetrics.Covered[row["metric"]](new CheckJson(row["inputs"]));

        if (row["expected"] is "null" or "")
            Assert.Null(value);
        else
            Assert.InRange(Assert.NotNull(value) - Number(row["expected"]), -Allowed(row), Allowed(row));
    }

    [Fact]
    public void Every_row_is_either_compared_or_listed_with_a_reason()
    {
        var compared = s_rows.Count(row => CheckedMetrics.Covered.ContainsKey(row["metric"]));
        var listed = s_rows.Count(IsListed);

        Assert.Equal(182, s_rows.Count);
        Assert.Equal(182, compared + listed);
        Assert.Equal(148, compared);
        Assert.DoesNotContain(s_rows, row => CheckedMetrics.Covered.ContainsKey(row["metric"]) && IsListed(row));
    }

    [Fact]
    public void No_function_and_no_reason_stands_for_rows_that_are_not_there()
    {
        Assert.All(CheckedMetrics.Covered.Keys, metric => Assert.Contains(s_rows, row => row["metric"] == metric));
        Assert.All(CheckedMetrics.NotCovered.Keys, start => Assert.Contains(s_rows, row => row["id"].StartsWith(start, StringComparison.Ordinal)));
    }

    private static bool IsListed(Dictionary<string, string> row) =>
        CheckedMetrics.NotCovered.Keys.Any(start => row["id"].StartsWith(start, StringComparison.Ordinal));

    /// <summary>The row's own; a row that asks for 0 gets what adding up in another order may cost.</summary>
    private static double Allowed(Dictionary<string, string> row) => Number(row["tolerance"]) * (1 + 1e-9) + 1e-15;

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
