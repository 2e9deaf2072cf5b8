using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Feeds;

/// <summary>A new feed: what it is, then for which site and with what. Nothing is saved here.</summary>
[RequestSizeLimit(FeedTrialsApi.LongestFile + 1_000_000)]
[RequestFormLimits(MultipartBodyLengthLimit = FeedTrialsApi.LongestFile + 1_000_000)]
[Right(Right.ManageFeeds)]
internal sealed class NewModel(FruitWatchStore store, FeedTrials trials, Words words) : PageModel
{
    /// <summary>The description that was chosen to start from; null while none is.</summary>
    public FeedDescription? Preset { get; private set; }

    public IReadOnlyList<Site> Sites { get; private set; } = [];

    /// <summary>What was filled in.</summary>
    public FeedForm Form { get; private set; } = new();

    /// <summary>What came of asking, where it gave no answer; the draft is kept, and can be asked again.</summary>
    public TrialSeen? Refused { get; private set; }

    public async Task<IActionResult> OnGetAsync(string? preset, long? site, CancellationToken stop)
    {
        await OpenAsync(stop);
        if (preset is null)
            return Page();
        if ((Preset = FeedPresets.Find(preset)) is null)
            return NotFound();
        Form = new FeedForm { SiteId = site ?? (Sites.Count == 1 ? Sites[0].Id : null), Json = Preset.Json };
        return Page();
    }

    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostAsync(string? preset, IFormFile? file, CancellationToken stop)
    {
        if (FeedPresets.Find(preset ?? "") is not { } chosen)
            return NotFound();
        Preset = chosen;
        await OpenAsync(stop);
        Form = FeedForm.Of(Request.Form, chosen.Json, words);
        var site = Sites.FirstOrDefault(row => row.Id == Form.SiteId);
        var description = Form.Parse(trials);
        Form.CheckSite(site, words);
        if (description is not null)
            Form.CheckNeeds(description, site, file is not null, keyIsKept: false, words);
        if (!Form.Good)
            return Refuse();

        var draft = await trials.MakeAsync(site!, description!, Form.Change, stop);
        try
        {
            if (description!.IsUpload)
            {
                await using var content = file!.OpenReadStream();
                Refused = await trials.HandInAsync(draft, site!, content, file.FileName, stop);
            }
            else
            {
                Refused = await trials.FetchAsync(draft, site!, stop);
            }
        }
        catch (TrialTooOftenException often)
        {
            Form.Refuse("", words.FeedsTooOften(TrialPace.Most, (int)Math.Ceiling(often.Wait.TotalSeconds)));
            return Refuse(StatusCodes.Status429TooManyRequests);
        }

        // An answer that was taken, understood or not, is shown where it can be worked on; one that never came is told here.
        return draft.Body is not null
            ? LocalRedirect(TrialModel.Address(draft.Id, "asked", Refused))
            : Refuse();
    }

    private PageResult Refuse(int status = StatusCodes.Status422UnprocessableEntity)
    {
        Response.StatusCode = status;
        return Page();
    }

    private async Task OpenAsync(CancellationToken stop) =>
        Sites = await store.Sites.AsNoTracking().OrderBy(row => row.Id).ToListAsync(stop);
}
