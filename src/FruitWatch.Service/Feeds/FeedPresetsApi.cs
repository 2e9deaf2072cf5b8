using System.ComponentModel;
using System.Text.Json;
using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Web;

namespace FruitWatch.Service.Feeds;

/// <summary>The shipped descriptions in the web API.</summary>
internal static class FeedPresetsApi
{
    public static void MapFeedPresets(this IEndpointRouteBuilder api)
    {
        var presets = api.MapGroup("/feed-presets").WithTags("Feeds").Needs(Right.ReadFeeds);
        presets.MapGet("", () => TypedResults.Ok(new Listing<PresetBody>([.. FeedPresets.All.Select(PresetBody.Of)], null)))
            .WithName("ListFeedPresets").WithSummary("The descriptions of feeds that come with the program, to start from.");
        presets.MapGet("schema", () => Results.Text(FeedPresets.SchemaJson, "application/schema+json"))
            .WithName("GetFeedSchema").WithSummary("The JSON Schema of descriptions.").Giving<JsonElement>("application/schema+json");
        presets.MapGet("{id}", Get).WithName("GetFeedPreset").WithSummary("A shipped description as it stands, to be changed and tried.")
            .Giving<JsonElement>().Refusing(404);
    }

    private static IResult Get([Description("Id of the preset.")] string id) =>
        FeedPresets.Find(id) is { } preset ? Results.Text(preset.Json, "application/json") : ApiProblems.NotFound("preset", id);
}
