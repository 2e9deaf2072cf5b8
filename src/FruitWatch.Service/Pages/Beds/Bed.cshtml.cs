using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Charts;
using FruitWatch.Service.Log;
using FruitWatch.Service.Outlooks;
using FruitWatch.Service.People;
using FruitWatch.Service.Text;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc;
using Microsoft.AspNetCore.Mvc.RazorPages;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using NodaTime.Text;
using LogRow = FruitWatch.Store.Entities.LogEntry;

namespace FruitWatch.Service.Pages.Beds;

/// <summary>A bed: how it stands, what is to be done, its log, and its account in charts.</summary>
[Right(Right.ReadBeds)]
internal sealed class BedModel(
    FruitWatchStore store, SiteBooks books, BedCatalogue catalogue, LogBook log, BedAccess access, Recorders recorders, Words words) : PageModel
{
    /// <summary>Entries that stand open; earlier ones are folded away, so that a long log does not push the charts out of reach.</summary>
    public const int EntriesShown = 10;

    private const int UsualDays = 90;
    private const int MostDays = 1100;

    [BindProperty(SupportsGet = true)]
    public long Id { get; set; }

    public BedGlance Glance { get; private set; } = null!;

    /// <summary>The log, the latest first.</summary>
    public IReadOnlyList<LogRow> Entries { get; private set; } = [];

    /// <summary>The form for the kind of entry that was chosen; null where none was.</summary>
    public LogForm? Form { get; private set; }

    /// <summary>The entry that was just made.</summary>
    public LogRow? Added { get; private set; }

    /// <summary>An entry was just undone.</summary>
    public bool Undone { get; private set; }

    /// <summary>Whether the visitor may write its log.</summary>
    public bool MayLog { get; private set; }

    /// <summary>Whether the visitor may change the bed.</summary>
    public bool MayChange { get; private set; }

    /// <summary>Names of members, by their keys: who recorded what.</summary>
    public IReadOnlyDictionary<long, string> Names { get; private set; } = new Dictionary<long, string>();

    public ChartDays Days { get; private set; } = null!;

    /// <summary>What is wrong with the stretch of days asked for; null where nothing is.</summary>
    public string? DaysProblem { get; private set; }

    public IReadOnlyList<Chart> Charts { get; private set; } = [];

    /// <summary>The outlook in charts; empty where there is none.</summary>
    public IReadOnlyList<Chart> ChartsAhead { get; private set; } = [];

    public SiteBook Site => Glance.Site;

    public BedBook Bed => Glance.Bed;

    public BedCatalogue Catalogue => catalogue;

    public async Task<IActionResult> OnGetAsync(string? log, string? from, string? to, long? added, bool undone, CancellationToken stop)
    {
        if (!await OpenAsync(from, to, stop))
            return NotFound();
        if (MayLog && LogKinds.All.Contains(log ?? ""))
            Form = LogForm.Empty(log!, Site.Today, words.Units);
        Added = Bed.LogRows.FirstOrDefault(row => row.Id == added);
        Undone = undone;
        return Page();
    }

    [Asks(Right.WriteLog)]
    public async Task<IActionResult> OnPostLogAsync(CancellationToken stop)
    {
        if (!await OpenAsync(null, null, stop))
            return NotFound();
        if (!MayLog)
            return StatusCode(StatusCodes.Status403Forbidden);
        Form = LogForm.Of(Request.Form, Site.Today, words.Units);
        if (Form.Read(Id, Bed.Row.InoculatedOn, Site.Today, catalogue, words) is { } entry)
        {
            try
            {
                await log.AddAsync(entry, null, stop);
                return LocalRedirect(FormattableString.Invariant($"/beds/{Id}?added={entry.Id}#log"));
            }
            catch (LogEntryException wrong)
            {
                Form.Refuse(wrong.FieldName, words.NotPossible);
            }
        }

        Response.StatusCode = StatusCodes.Status422UnprocessableEntity;
        return Page();
    }

    [Asks(Right.WriteLog)]
    public async Task<IActionResult> OnPostUndoAsync(long entry, CancellationToken stop)
    {
        if (!await log.KnowsAsync(Id, stop))
            return NotFound();
        if (await log.FindAsync(Id, entry, stop) is not null && !await access.MayAsync(Right.WriteLog, Id, stop))
            return StatusCode(StatusCodes.Status403Forbidden);
        // Undone before or at this moment by somebody else: it is as wished.
        try
        {
            if (await log.FindAsync(Id, entry, stop) is { } row)
                await log.UndoAsync(row, stop);
        }
        catch (DbUpdateConcurrencyException)
        {
        }

        return LocalRedirect(FormattableString.Invariant($"/beds/{Id}?undone=true#log"));
    }

    private async Task<bool> OpenAsync(string? from, string? to, CancellationToken stop)
    {
        if (await BedAccountApi.OpenAsync(Id, store, books, stop) is not { } open)
            return false;
        MayLog = await access.MayAsync(Right.WriteLog, Id, stop);
        MayChange = await access.MayAsync(Right.ManageBeds, Id, stop);
        Names = await recorders.NamesAsync(stop);
        var outlook = OutlookReport.Of(open.Site, open.Bed);
        Glance = new BedGlance(open.Site, open.Bed, outlook);
        ChartsAhead = outlook is null ? [] : Ahead(outlook);
        Entries = [.. Bed.LogRows.OrderByDescending(row => row.On).ThenByDescending(row => row.At).ThenByDescending(row => row.Id)];
        Days = Stretch(from, to);
        var account = Bed.Account?.Days ?? [];
        Charts =
        [
            new WeatherChart(Site.Weather, Site.SourcesOf, Days, words),
            .. account.Count == 0 ? Array.Empty<Chart>() :
            [
                new MoistureChart(account, Days, words),
                new TemperatureChart(account, Bed.Bed.Species.Pinning.Band, Days, words),
                new ProgressChart(account, Days, words),
            ],
        ];
        return true;
    }

    private Chart[] Ahead(OutlookReport report)
    {
        var outlook = report.Outlook;
        var days = new ChartDays(outlook.Today, outlook.LastDay, outlook.Today) { LastForecastDay = report.Futures.LastForecastDay };
        return outlook.Fans is { } fans
            ?
            [
                new ChanceChart(report, days, words),
                new MoistureFanChart(fans.Moisture, report.WaterMark, days, words),
                new TemperatureFanChart(fans.BedTemperature, days, words),
            ]
            : [new ChanceChart(report, days, words)];
    }

    /// <summary>The days asked for, within those that are known; the last months and the forecast where none are.</summary>
    private ChartDays Stretch(string? from, string? to)
    {
        var first = Site.Weather.Count > 0 ? Site.Weather[0].Date : Site.Today;
        var last = LocalDate.Max(Site.LastDay ?? Site.Today, Site.Today);
        var usual = new ChartDays(LocalDate.Max(first, Site.Today.PlusDays(-UsualDays)), last, Site.Today);
        if (string.IsNullOrEmpty(from) && string.IsNullOrEmpty(to))
            return usual;
        if (Day(from) is not { } begin || Day(to) is not { } end || end < begin || Period.DaysBetween(begin, end) >= MostDays)
        {
            DaysProblem = words.DaysNotUnderstood(MostDays);
            return usual;
        }

        var asked = new ChartDays(LocalDate.Max(begin, first), LocalDate.Min(end, last), Site.Today);
        if (asked.To >= asked.From)
            return asked;
        DaysProblem = words.DaysNotKnown(first, last);
        return usual;

        LocalDate? Day(string? text) => string.IsNullOrEmpty(text)
            ? ReferenceEquals(text, from) ? usual.From : last
            : LocalDatePattern.Iso.Parse(text).TryGetValue(default, out var day) ? day : null;
    }
}
