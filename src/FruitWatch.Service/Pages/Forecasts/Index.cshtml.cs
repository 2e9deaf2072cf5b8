using System.Globalization;
using FruitWatch.Model.Catalogue;
using FruitWatch.Service.Access;
using FruitWatch.Service.Verification;
using FruitWatch.Store;
using Microsoft.AspNetCore.Mvc.RazorPages;

namespace FruitWatch.Service.Pages.Forecasts;

/// <summary>How good the kept forecasts of pins were.</summary>
[Right(Right.ReadRecords)]
internal sealed class IndexModel(FruitWatchStore store, BedCatalogue catalogue) : PageModel
{
    public BedCatalogue Catalogue => catalogue;

    public ForecastReport Report { get; private set; } = new(ForecastReport.UsualLead, []);

    /// <summary>Species of whose pins the page speaks.</summary>
    public IEnumerable<Species> ToBeKnown =>
        Report.By(GroupedBy.Species).Select(group => catalogue.Species.GetValueOrDefault(group.Key)).OfType<Species>().Distinct();

    public async Task OnGetAsync(string? lead, CancellationToken stop)
    {
        var days = int.TryParse(lead, NumberStyles.None, CultureInfo.InvariantCulture, out var asked) && ForecastReport.Leads.Contains(asked)
            ? asked
            : ForecastReport.UsualLead;
        Report = await ForecastReport.MakeAsync(store, new ForecastsAsked(), days, stop);
    }

    /// <summary>The groups of one cooperative by which a table goes.</summary>
    public IReadOnlyList<ForecastGroup> Of(ForecastGroup cooperative, GroupedBy by) =>
        [.. Report.By(by).Where(group => group.CooperativeId == cooperative.CooperativeId)];
}
