using FruitWatch.Service.Channels.Email;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;

namespace FruitWatch.Service.Digests;

/// <summary>Puts a digest into words.</summary>
/// <param name="digest">What to tell.</param>
/// <param name="words">In which language.</param>
/// <param name="withBeds">Whether to go through the beds one by one, for those who have not too many.</param>
/// <param name="inFull">Notices told in full; the others get a line each.</param>
/// <param name="form">What it is: outside the morning mail it tells only what it is about.</param>
internal sealed class LetterWriter(Digest digest, Words words, bool withBeds, int inFull, LetterForm form = LetterForm.Morning)
{
    private readonly CautionWriter cautions = new(words);
    private int left = inFull;

    public Letter Write()
    {
        var told = digest.Sites.Select(Told.Of).ToList();
        var all = told.SelectMany(t => t).ToList();
        var summary = form == LetterForm.TakenBack ? words.TakenBackSummary : form == LetterForm.Urgent ? words.UrgentSummary : words.Counts(
            all.Count(t => t.IsNews && !t.IsAhead),
            all.Count(t => t.IsNews && t.IsAhead),
            all.Count(t => t.Item.Role == DigestRole.Open),
            all.Count(t => t.Item.Role == DigestRole.Withdrawn),
            digest.Sites.All(IsKnown));
        var sites = digest.Sites.Zip(told, SiteOf).ToList();
        var cooperative = OneLine.Of(digest.CooperativeName, 80);
        return new Letter(
            words.Language,
            form == LetterForm.TakenBack ? Gist.TakenBack(digest, words) : Gist.Of(digest, words),
            string.Join(" ", sites.Select(site => $"{site.Name}: {site.Weather}").Prepend(summary)),
            cooperative,
            form == LetterForm.Urgent ? words.UrgentTitle : form == LetterForm.TakenBack ? words.TakenBackTitle : Gist.Capital(words.Date(digest.Day), words.Culture),
            words.Greeting(OneLine.Of(digest.Person.Name, 80), digest.Late || !IsMorning),
            digest.Late ? $"{words.ComesLate} {summary}" : summary,
            sites,
            new LetterLink(words.OpenThePage, Address("/")),
            [.. digest.Sites.Select(site => OneLine.Of(site.Attribution, 500)).Where(credit => credit.Length > 0).Distinct()],
            [
                IsMorning ? words.WhyYouGetThis(cooperative, [.. sites.Select(site => site.Name)]) : words.WhyYouGetUrgent(cooperative),
                .. digest.For.Count > 0 ? [words.ToldInPlaceOf([.. digest.For.Select(name => OneLine.Of(name, 80))])] : Array.Empty<string>(),
                digest.Links is null ? words.RepliesAreNotRead(cooperative) : words.WrittenByAProgram,
            ])
        {
            Ways = digest.Links is { } links ? [new LetterLink(words.MailWishes, links.Wishes), new LetterLink(IsMorning ? words.StopDigests : words.StopUrgent, links.Stop)] : [],
        };
    }

    private LetterSite SiteOf(DigestSite site, IReadOnlyList<Told> told)
    {
        var news = Told.InOrder(told.Where(t => t.IsNews), digest.Day).ToList();
        var toDo = NoticesOf(words.ToDo, news.Where(t => !t.IsAhead));
        var coming = NoticesOf(words.Coming, news.Where(t => t.IsAhead));
        return new LetterSite(
            OneLine.Of(site.Name, 80),
            $"{words.Today} {SiteLines.Weather(site.Today, words)}.",
            Warning(site),
            toDo.Any || !IsMorning ? null : words.NothingHere(IsKnown(site)),
            toDo,
            coming,
            OpenOf(told),
            new LetterLines(words.NoLongerNeeded, [.. told.Where(t => t.Item.Role == DigestRole.Withdrawn).Select(WithdrawnLine)]),
            !IsMorning ? new LetterLines(words.BedByBed, []) : withBeds ? BedsOf(site) : new LetterLines(words.BedByBed, [new LetterLine(new LetterLink(""), words.BedsLeftOut)]),
            SiteLines.NextDays(site, words));
    }

    private bool IsMorning => form == LetterForm.Morning;

    private LetterNotices NoticesOf(string heading, IEnumerable<Told> told)
    {
        var full = new List<LetterNotice>();
        var brief = new List<Told>();
        foreach (var notice in told)
        {
            if (left-- > 0)
                full.Add(NoticeOf(notice));
            else
                brief.Add(notice);
        }

        return new LetterNotices(heading, full, cautions.Lines(brief, notice => new LetterLine(LinkTo(notice.Bed), $"{HeadlineAndDeadline(notice)}.")));
    }

    private LetterNotice NoticeOf(Told told)
    {
        var urgency = told.Urgency(digest.Day);
        return new LetterNotice(
            urgency,
            told.Item.Role == DigestRole.Changed ? $"{words.NameOf(urgency)}, {words.Changed}" : words.NameOf(urgency),
            LinkTo(told.Bed),
            words.NameOf(told.Bed.Species),
            words.Headline(told.Draft),
            $"{When(told)}; {words.HowSure(told.Draft.Confidence)}.",
            words.ReasonFor(told.Draft),
            cautions.For(told))
        {
            Deeds = [.. (digest.Links?.Deeds(told.Item.Notice, told.Draft) ?? []).Select(one => new LetterLink(words.SayDeed(one.Deed, told.Draft), one.Address))],
        };
    }

    private LetterLines OpenOf(IEnumerable<Told> told) => new(
        words.StillOpen,
        cautions.Lines(
            Told.InOrder(told.Where(t => t.Item.Role == DigestRole.Open), digest.Day),
            t => new LetterLine(LinkTo(t.Bed), $"{HeadlineAndDeadline(t)} ({words.ToldOn(t.Item.Notice.FirstOn)}).")));

    private LetterLine WithdrawnLine(Told told) => new(
        LinkTo(told.Bed), $"{words.Headline(told.Draft)}. {SiteLines.Closing(told.Item.Notice, words)}".TrimEnd());

    private string When(Told told) => told.IsWindow
        ? words.WindowEnds(told.Draft.Deadline)
        : Gist.Capital(words.When(told.Draft, digest.Day), words.Culture);

    // The headline of a window names its end already.
    private string HeadlineAndDeadline(Told told) =>
        words.Headline(told.Draft) + (told.IsWindow ? "" : $", {words.When(told.Draft, digest.Day)}");

    private LetterLines BedsOf(DigestSite site) => new(
        words.BedByBed,
        [.. site.Beds.Select(bed => new LetterLine(LinkTo(bed), $"{words.NameOf(bed.Species)}. {Gist.Capital(SiteLines.State(bed, words), words.Culture)}."))]);

    private string? Warning(DigestSite site) => site.Forecast switch
    {
        null => words.NoForecast,
        { IsStale: true } old => words.OldForecast(old.Age, OneLine.Of(old.FeedTitle, 80), old.IssuedAt.InZone(site.Zone).LocalDateTime),
        _ => null,
    };

    private static bool IsKnown(DigestSite site) => site.Forecast is { IsStale: false };

    private LetterLink LinkTo(DigestBed bed) => new(OneLine.Of(bed.Name, 80), Address(FormattableString.Invariant($"/beds/{bed.Id}")));

    private string Address(string path) => digest.BaseUrl.AbsoluteUri.TrimEnd('/') + path;
}
