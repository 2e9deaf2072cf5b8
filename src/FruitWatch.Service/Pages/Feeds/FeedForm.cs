using System.Globalization;
using FruitWatch.Feeds;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Pages.Feeds;

/// <summary>What somebody filled in about a feed, and what is wrong with it.</summary>
internal sealed class FeedForm
{
    public const int LongestTitle = 120;
    public const int LongestStation = 64;
    public const int LongestKey = 512;
    private const int LongestDescription = 65_536;

    private readonly List<(string Field, string Error)> errors = [];

    public long? SiteId { get; init; }

    public string? Title { get; init; }

    public string? Station { get; init; }

    /// <summary>The provider's key; it is never put back into a page.</summary>
    public string? Key { get; init; }

    /// <summary>The description's text.</summary>
    public string Json { get; init; } = "";

    /// <summary>What is wrong, in the order of the fields; an empty name is the form as a whole.</summary>
    public IReadOnlyList<(string Field, string Error)> Errors => errors;

    /// <summary>What is wrong with the description, with its line.</summary>
    public IReadOnlyList<(FeedDescriptionProblem Problem, int Line)> Problems { get; private set; } = [];

    public bool Good => errors.Count == 0 && Problems.Count == 0;

    public TrialChange Change => new(Title, Station, Key);

    /// <param name="form">What was posted.</param>
    /// <param name="usual">The description where none was posted.</param>
    /// <param name="words">For what is too long.</param>
    public static FeedForm Of(IFormCollection form, string usual, Words words)
    {
        // Browsers send lines with a carriage return; places are told by line.
        var json = Text(form, "description")?.ReplaceLineEndings("\n") ?? usual;
        var read = new FeedForm
        {
            SiteId = long.TryParse(form["site"], CultureInfo.InvariantCulture, out var site) ? site : null,
            Title = Text(form, "title"),
            Station = Text(form, "station"),
            Key = Text(form, "key"),
            Json = json.Length <= LongestDescription ? json : json[..LongestDescription],
        };
        if (read.Title?.Length > LongestTitle)
            read.Refuse("title", words.FeedsGiveName);
        if (read.Station?.Length > LongestStation)
            read.Refuse("station", words.FeedsGiveStation);
        if (read.Key?.Length > LongestKey)
            read.Refuse("key", words.FeedsGiveKey);
        return read;
    }

    private static string? Text(IFormCollection form, string name) => form[name].ToString().Trim() is { Length: > 0 } text ? text : null;

    public string? ErrorOf(string field) => errors.FirstOrDefault(error => error.Field == field).Error;

    public void Refuse(string field, string error) => errors.Add((field, error));

    /// <summary>The description read; null and its problems noted where it cannot be.</summary>
    public FeedDescription? Parse(FeedTrials trials)
    {
        try
        {
            return trials.Parse(Json);
        }
        catch (FeedDescriptionException wrong)
        {
            Problems = WithLines(wrong, Json);
            return null;
        }
    }

    public void CheckSite(Site? site, Words words)
    {
        if (site is null)
            Refuse("site", words.FeedsChooseSite);
    }

    public void CheckNeeds(FeedDescription description, Site? site, bool fileIsThere, bool keyIsKept, Words words)
    {
        if (description.NeedsStation && Station is null && site?.Station is null)
            Refuse("station", words.FeedsGiveStation);
        if (description.NeedsKey && Key is null && !keyIsKept)
            Refuse("key", words.FeedsGiveKey);
        if (description.IsUpload && !fileIsThere)
            Refuse("file", words.FeedsGiveFile);
    }

    public static IReadOnlyList<(FeedDescriptionProblem Problem, int Line)> WithLines(FeedDescriptionException wrong, string json) =>
        [.. wrong.Problems.Select(problem => (problem, DescriptionText.LineOf(json, problem.Place)))];
}
