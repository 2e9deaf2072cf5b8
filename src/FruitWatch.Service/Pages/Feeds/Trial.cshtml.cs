using FruitWatch.Feeds;
using FruitWatch.Service.Access;
using FruitWatch.Service.Feeds;
using FruitWatch.Service.Text;
using FruitWatch.Service.Weather;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;

namespace FruitWatch.Service.Pages.Feeds;

/// <summary>What was understood of a feed's answer, before it counts; from here it is mended, tried again and saved.</summary>
[RequestSizeLimit(FeedTrialsApi.LongestFile + 1_000_000)]
[RequestFormLimits(MultipartBodyLengthLimit = FeedTrialsApi.LongestFile + 1_000_000)]
[Right(Right.ManageFeeds)]
internal sealed class TrialModel(FruitWatchStore store, FeedTrials trials, FeedShelf shelf, Words words) : PageModel
{
    public TrialSeen Seen { get; private set; } = null!;

    public FeedForm Form { get; private set; } = new();

    /// <summary>What was just done: <c>asked</c>, <c>read</c> or <c>mended</c>; null for a mere look.</summary>
    public string? Done { get; private set; }

    /// <summary>Code of what the transfer told when the answer came.</summary>
    public string? TransferNote { get; private set; }

    /// <summary>Titles of the feeds that fill the site's slots now.</summary>
    public IReadOnlyDictionary<FeedSlot, string> Filled { get; private set; } = new Dictionary<FeedSlot, string>();

    /// <summary>Slots that are ticked for it.</summary>
    public IReadOnlyCollection<FeedSlot> Chosen { get; private set; } = [];

    /// <summary>The address of a draft's page, with what is to be said there.</summary>
    public static string Address(Guid id, string done, TrialSeen? seen = null) =>
        $"/feeds/trials/{id}?done={done}{(seen?.TransferNotes is [var note, ..] ? $"&note={note.Code}" : "")}{(seen?.KeyDropped == true ? "&key=dropped" : "")}";

    public async Task<IActionResult> OnGetAsync(Guid id, string? done, string? note, string? key, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is not { } found)
            return NotFound();
        Done = done;
        TransferNote = note == FeedCodes.Deprecated ? note : null;
        await ShowAsync(await trials.LookAsync(found.Draft, found.Site, stop) with { KeyDropped = key == "dropped" }, stop);
        return Page();
    }

    /// <summary>Asks again, or takes another file.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostFetchAsync(Guid id, IFormFile? file, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is not { } found)
            return NotFound();
        var (draft, site) = found;
        var before = await trials.LookAsync(draft, site, stop);
        Form = FeedForm.Of(Request.Form, draft.Description, words);
        Form.CheckNeeds(before.Description, site, file is not null, draft.SealedKey is not null, words);
        if (!Form.Good)
            return await RefuseAsync(before, stop);
        await trials.ChangeAsync(draft, site, null, Form.Change, stop);
        TrialSeen seen;
        try
        {
            if (before.Description.IsUpload)
            {
                await using var content = file!.OpenReadStream();
                seen = await trials.HandInAsync(draft, site, content, file.FileName, stop);
            }
            else
            {
                seen = await trials.FetchAsync(draft, site, stop);
            }
        }
        catch (TrialTooOftenException often)
        {
            Form.Refuse("", words.FeedsTooOften(TrialPace.Most, (int)Math.Ceiling(often.Wait.TotalSeconds)));
            return await RefuseAsync(before, stop, StatusCodes.Status429TooManyRequests);
        }

        // The answer is in the draft and shown from there; only one that never came has to be told now.
        return seen.Refusal is null || seen.Head is not null ? LocalRedirect(Address(id, "asked", seen)) : await RefuseAsync(seen, stop);
    }

    /// <summary>Tries another description on the answer that is there.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostChangeAsync(Guid id, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is not { } found)
            return NotFound();
        Form = FeedForm.Of(Request.Form, found.Draft.Description, words);
        var description = Form.Parse(trials);
        if (!Form.Good)
            return await RefuseAsync(await trials.LookAsync(found.Draft, found.Site, stop), stop);
        var seen = await trials.ChangeAsync(found.Draft, found.Site, description, Form.Change, stop);
        return LocalRedirect(Address(id, "read", seen));
    }

    /// <summary>Changes the unit to the one that fits.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostMendAsync(Guid id, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is not { } found)
            return NotFound();
        var seen = await trials.LookAsync(found.Draft, found.Site, stop);
        if (seen.Question is not { Pointer: { } pointer, Value: { } value } || DescriptionText.Mended(found.Draft.Description, pointer, value) is not { } mended)
            return LocalRedirect(Address(id, "read"));
        await trials.ChangeAsync(found.Draft, found.Site, trials.Parse(mended), new TrialChange(), stop);
        return LocalRedirect(Address(id, "mended"));
    }

    /// <summary>Saves exactly what is shown.</summary>
    [Asks(Right.ManageFeeds)]
    public async Task<IActionResult> OnPostSaveAsync(Guid id, string? title, FeedSlot[] slots, bool units, CancellationToken stop)
    {
        if (await trials.FindAsync(id, stop) is not { } found)
            return NotFound();
        var (draft, site) = found;
        Chosen = slots;
        Form = FeedForm.Of(Request.Form, draft.Description, words);
        if (string.IsNullOrWhiteSpace(title))
            Form.Refuse("title", words.FeedsGiveName);
        if (!Form.Good)
            return await RefuseAsync(await trials.LookAsync(draft, site, stop), stop);
        draft.Title = title!.Trim();
        try
        {
            if (draft.FeedId is not { } changed)
                await shelf.SaveAsync(draft, site, slots, units, stop);
            else if (await store.Feeds.SingleOrDefaultAsync(row => row.Id == changed, stop) is { } feed)
                await shelf.ChangeAsync(feed, draft, site, slots, units, stop);
            else
                return NotFound();
            return LocalRedirect("/feeds?done=saved");
        }
        catch (FeedRefusedException why)
        {
            Form.Refuse(why.Why == FeedRefusal.UnitsAsked ? "units" : "", words.FeedsRefused(why));
            return await RefuseAsync(await trials.LookAsync(draft, site, stop), stop);
        }
    }

    private async Task<PageResult> RefuseAsync(TrialSeen seen, CancellationToken stop, int status = StatusCodes.Status422UnprocessableEntity)
    {
        await ShowAsync(seen, stop);
        Response.StatusCode = status;
        return Page();
    }

    private async Task ShowAsync(TrialSeen seen, CancellationToken stop)
    {
        Seen = seen;
        if (Form.Json.Length == 0)
            Form = new FeedForm { SiteId = seen.Site.Id, Title = seen.Draft.Title, Station = seen.Draft.Station ?? seen.Site.Station, Json = DescriptionText.InLines(seen.Draft.Description) };
        var filled = FilledSlot.Of(seen.Site).ToDictionary(slot => slot.Slot, slot => slot.FeedId);
        var ids = filled.Values.ToArray();
        var titles = await store.Feeds.AsNoTracking().Where(feed => EF.Parameter(ids).Contains(feed.Id)).ToDictionaryAsync(feed => feed.Id, feed => feed.Title, stop);
        Filled = filled.Where(slot => slot.Value != seen.Draft.FeedId).ToDictionary(slot => slot.Key, slot => titles[slot.Value]);
        if (Chosen.Count == 0 && HttpMethods.IsGet(Request.Method))
            Chosen = filled.Where(slot => slot.Value == seen.Draft.FeedId).Select(slot => slot.Key).DefaultIfEmpty(Usual(seen.Description)).ToList();
    }

    private static FeedSlot Usual(FeedDescription description) =>
        description.Provides != FeedProvides.History ? FeedSlot.Forecast
        : description.IsUpload || description.NeedsStation ? FeedSlot.Station
        : FeedSlot.Archive;
}
