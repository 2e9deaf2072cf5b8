using FruitWatch.Model.Futures;
using NodaTime;

namespace FruitWatch.Model.Verification.Backtest;

/// <summary>Holds the issued outlooks against what came.</summary>
internal static class BacktestCases
{
    public static IReadOnlyList<BacktestCase> Of(
        BacktestSetting setting, TrueBed[] beds, BacktestMorning[] mornings, Func<IssuedOutlook, int[]> pins)
    {
        var latitude = setting.Ladder.Latitude;
        var cases = new List<BacktestCase>();
        foreach (var lead in setting.Leads)
        {
            var ofLead = beds.SelectMany(bed => OfBed(bed, mornings, lead, pins, latitude)).ToList();
            foreach (var species in ofLead.GroupBy(c => c.SpeciesKey))
            {
                var list = species.ToList();
                var usual = UsualChance.LeaveOneSeasonOut([.. list.Select(c => new SeasonOutcome(c.Issued, c.Case.Season, c.Case.PinsCame))]);
                cases.AddRange(list.Select((c, i) => c with { Case = c.Case with { ClimatologicalChance = usual[i] } }));
            }
        }

        return cases;
    }

    private static List<BacktestCase> OfBed(TrueBed bed, BacktestMorning[] mornings, int lead, Func<IssuedOutlook, int[]> pins, double latitude)
    {
        var cases = new List<BacktestCase>();
        var issued = new List<IssuedChance>();
        foreach (var morning in mornings)
        {
            if (morning.Beds.FirstOrDefault(outlook => outlook.Bed == bed.Number) is not { } outlook
                || !BacktestRun.IsScored(bed, morning.Issued)
                || pins(outlook).Length < lead
                || morning.Issued.PlusDays(lead - 1) > bed.LastDay)
                continue;

            var by = pins(outlook);
            var next = bed.NextPins(morning.Issued);
            var horizonKnown = next is not null || morning.Issued.PlusDays(by.Length - 1) <= bed.LastDay;
            var came = next <= morning.Issued.PlusDays(lead - 1);
            var chance = Chance.Of(by[lead - 1], outlook.Members);
            cases.Add(new BacktestCase(bed.Known.Species.Key, bed.Number, morning.Issued, lead, new PinsCase(chance, came, GrowingSeason.Of(morning.Issued, latitude))
            {
                RuleOfThumb = morning.RuleOfThumb,
                DateCrps = horizonKnown ? Crps.OfDays(by, outlook.Members, next is { } day ? Period.DaysBetween(morning.Issued, day) : null) : null,
            }));
            issued.Add(new IssuedChance(morning.Issued, chance, next));
        }

        var leadDays = FirstWarning.LeadDays(issued, lead);
        return [.. cases.Select((c, i) => c with { Case = c.Case with { LeadDays = leadDays[i] } })];
    }
}
