using System.Globalization;

namespace FruitWatch.Model.Tests.Evaporation;

/// <summary>Every printed value of FAO-56 and its companions that the model has a function for.</summary>
public class PrintedValueTests
{
    private static readonly List<Dictionary<string, string>> s_rows = CheckFile.Read("Evapotranspiration/evapotranspiration-checks.csv");

    public static TheoryData<string> Quantities => [.. PrintedQuantities.Covered.Keys];

    [Theory]
    [MemberData(nameof(Quantities))]
    public void Agrees_with_every_printed_value_of(string quantity)
    {
        var function = PrintedQuantities.Covered[quantity];
        var rows = s_rows.Where(row => row["quantity"] == quantity).ToList();
        var wrong = rows.Where(row => !Agrees(row, function(new CheckInputs(row["inputs"])))).ToList();

        Assert.NotEmpty(rows);
        Assert.True(wrong.Count == 0, string.Join('\n', wrong.Select(row =>
            $"{row["id"]}: {function(new CheckInputs(row["inputs"])).ToString("G10", CultureInfo.InvariantCulture)}, "
            + $"printed {row["expected"]} ± {row["tolerance"]} ({row["source"]})")));
    }

    [Fact]
    public void Every_row_has_a_function_or_a_reason_why_not()
    {
        var open = s_rows
            .Select(row => row["quantity"])
            .Where(q => !PrintedQuantities.Covered.ContainsKey(q) && !PrintedQuantities.NotCovered.ContainsKey(q))
            .Distinct();

        Assert.Empty(open);
    }

    [Fact]
    public void No_reason_is_given_for_a_quantity_that_is_covered_or_not_there()
    {
        var there = s_rows.Select(row => row["quantity"]).ToHashSet();

        Assert.All(PrintedQuantities.NotCovered.Keys, quantity =>
        {
            Assert.Contains(quantity, there);
            Assert.DoesNotContain(quantity, PrintedQuantities.Covered.Keys);
        });
    }

    [Fact]
    public void The_table_is_whole() => Assert.Equal(880, s_rows.Count);

    private static bool Agrees(Dictionary<string, string> row, double value) =>
        Math.Abs(value - Number(row["expected"])) <= Number(row["tolerance"]) * (1 + 1e-9);

    private static double Number(string text) => double.Parse(text, CultureInfo.InvariantCulture);
}
