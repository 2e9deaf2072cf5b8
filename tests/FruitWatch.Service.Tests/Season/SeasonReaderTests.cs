using System.Globalization;
using FruitWatch.Model.Beds;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Evaporation;
using FruitWatch.Model.Season;
using FruitWatch.Service.Season;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Season;

public class SeasonReaderTests
{
    private static readonly SeasonAsked s_nothing = new([], null, null, null, null, null, null);

    [Fact]
    public void Nothing_asked_is_every_species_in_the_usual_bed()
    {
        var question = Read(s_nothing, out _)!;
        Assert.Equal(new BedPattern(), question.Pattern);
        Assert.Equal(BedCatalogue.BuiltIn.Species.Values, question.Species);
        Assert.Equal(new BedPattern(), Read(new SeasonAsked([""], "", "", " ", "", "", ""), out _)!.Pattern);
    }

    [Fact]
    public void Growers_give_cm_and_per_cent_and_programs_metres_and_shares()
    {
        var page = Read(s_nothing with { Depth = "20", Shade = "70", MulchCm = "3", Mulch = "cereal-straw", Cover = "pierced-sheet", Material = "sawdust" }, out _, SeasonFields.OfPage)!;
        var api = Read(s_nothing with { Depth = "0.2", Shade = "0.7", MulchCm = "3", Mulch = "cereal-straw", Cover = "pierced-sheet", Material = "sawdust" }, out _)!;
        Assert.Equal(new BedPattern { Material = "sawdust", Depth = 0.2, Shade = 0.7, MulchCm = 3, Mulch = "cereal-straw", Cover = Cover.PiercedSheet }, api.Pattern);
        Assert.Equal(api.Pattern, page.Pattern);
    }

    [Fact]
    public void Mulch_of_no_depth_is_none() =>
        Assert.Equal(new BedPattern(), Read(s_nothing with { Mulch = "cereal-straw", MulchCm = "0" }, out _)!.Pattern);

    /// <summary>What is read is planned, and what is refused would be refused by the planner: the bounds are the same ones.</summary>
    [Theory]
    [InlineData(SeasonReader.ThinnestM, 0, 0)]
    [InlineData(SeasonReader.DeepestM, 1, SeasonReader.MostMulchCm)]
    public void The_last_numbers_that_are_read_are_the_last_that_the_planner_takes(double depth, double shade, double mulch)
    {
        var asked = s_nothing with { Depth = Text(depth), Shade = Text(shade), MulchCm = Text(mulch), Mulch = "cereal-straw" };
        var read = Read(asked, out _)!;
        Plan(read.Pattern);
        const double little = 0.001;
        var (beyondDepth, beyondShade, beyondMulch) = shade == 0 ? (depth - little, -little, -little) : (depth + little, 1 + little, mulch + little);
        Refused(read.Pattern with { Depth = beyondDepth }, asked with { Depth = Text(beyondDepth) }, "depthM");
        Refused(read.Pattern with { Shade = beyondShade }, asked with { Shade = Text(beyondShade) }, "shade");
        Refused(read.Pattern with { MulchCm = beyondMulch }, asked with { MulchCm = Text(beyondMulch) }, "mulchCm");
    }

    private static void Refused(BedPattern pattern, SeasonAsked asked, string field)
    {
        Assert.Throws<ArgumentException>(() => Plan(pattern));
        Assert.Null(Read(asked, out var errors));
        Assert.Equal([field], errors.Keys);
    }

    private static void Plan(BedPattern pattern) =>
        SeasonPlanner.Plan([], new EvaporationLadder(43), [BedCatalogue.BuiltIn.Species["wine-cap"]], pattern, BedCatalogue.BuiltIn);

    private static SeasonQuestion? Read(SeasonAsked asked, out IReadOnlyDictionary<string, string[]> errors, SeasonFields? fields = null)
    {
        var reader = new SeasonReader(fields ?? SeasonFields.OfApi, BedCatalogue.BuiltIn, Words.For("en"));
        var question = reader.Read(asked);
        errors = reader.Errors;
        return question;
    }

    private static string Text(double number) => number.ToString("R", CultureInfo.InvariantCulture);
}
