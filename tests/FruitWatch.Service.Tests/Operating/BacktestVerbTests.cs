using FruitWatch.Service.Operating;

namespace FruitWatch.Service.Tests.Operating;

public sealed class BacktestVerbTests
{
    private static readonly string s_seattle = Path.Combine(AppContext.BaseDirectory, "Golden", "seattle", "seattle-daily.csv");

    [Fact]
    public void Prints_a_line_for_every_species_and_lead_and_for_all_with_learning_and_without()
    {
        var lines = Run("--weather", s_seattle, "--latitude", "47.45", "--species", "wine-cap,oyster-cold", "--beds", "1", "--every", "60", "--lead", "10")
            .Split('\n', StringSplitOptions.RemoveEmptyEntries);

        Assert.StartsWith("weather 2012-01-01 to 2015-12-31, beds 8, mornings ", lines[0], StringComparison.Ordinal);
        foreach (var name in new[] { "wine-cap", "oyster-cold", "all" })
        {
            var leads = lines.Where(line => line.StartsWith(name + " ", StringComparison.Ordinal)).Select(line => line.Split(' ', StringSplitOptions.RemoveEmptyEntries)[1]);
            string[] block = ["3", "7", "10", "14", "30"];
            Assert.Equal([.. block, .. block, .. block], leads);
        }

        Assert.Equal(3, lines.Count(line => line.StartsWith("reliability, 10 days", StringComparison.Ordinal)));
        Assert.Equal(3, lines.Count(line => line.StartsWith("0.9-1.0", StringComparison.Ordinal)));
        Assert.DoesNotContain("NaN", string.Concat(lines), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("--species", "toadstool", "--species: 'toadstool' is not in the catalogue; expected of almond-agaricus, ")]
    [InlineData("--beds", "none", "--beds: 'none'; expected a whole number from 1 to 100.")]
    [InlineData("--every", "0", "--every: '0'; expected a whole number from 1 to 365.")]
    [InlineData("--lead", "41", "--lead: '41'; expected a whole number from 1 to 40.")]
    [InlineData("--strain-spread", "1,5", "--strain-spread: '1,5'; expected a number from 0 to 3, with a decimal point.")]
    [InlineData("--seed", "-1", "--seed: '-1'; expected a whole number from 0 to 2147483647.")]
    public void An_option_that_cannot_be_is_refused_with_what_would_do(string option, string value, string message) =>
        Assert.StartsWith(message, Refusal("--weather", s_seattle, "--latitude", "47.45", option, value), StringComparison.Ordinal);

    [Fact]
    public void Weather_and_latitude_are_needed()
    {
        Assert.Equal("--weather is missing.", Refusal("--latitude", "47"));
        Assert.Equal("--latitude is missing.", Refusal("--weather", s_seattle));
        Assert.Equal("--latitude: '97'; expected a number from -90 to 90, with a decimal point.", Refusal("--weather", s_seattle, "--latitude", "97"));
    }

    [Fact]
    public void Too_short_a_file_is_refused()
    {
        var folder = Directory.CreateTempSubdirectory("backtest").FullName;
        try
        {
            var file = Path.Combine(folder, "short.csv");
            File.WriteAllLines(file, File.ReadLines(s_seattle).Take(401));
            Assert.StartsWith("There are 400 days of weather; a backtest needs at least 3 years", Refusal("--weather", file, "--latitude", "47"), StringComparison.Ordinal);
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static string Run(params string[] args)
    {
        using var output = new StringWriter { NewLine = "\n" };
        BacktestVerb.Run(VerbOptions.Parse(args, BacktestVerb.Known), output);
        return output.ToString();
    }

    private static string Refusal(params string[] args)
    {
        using var output = new StringWriter();
        var error = Assert.Throws<VerbException>(() => BacktestVerb.Run(VerbOptions.Parse(args, BacktestVerb.Known), output));
        Assert.Empty(output.ToString());
        return error.Message;
    }
}
