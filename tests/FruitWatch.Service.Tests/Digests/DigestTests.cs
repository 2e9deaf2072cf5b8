using System.Globalization;
using System.Text;
using System.Text.RegularExpressions;
using FruitWatch.Model.Account;
using FruitWatch.Model.Catalogue;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Beds;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Notices;
using FruitWatch.Service.Text;
using FruitWatch.Store.Entities;
using NodaTime;

namespace FruitWatch.Service.Tests.Digests;

public sealed partial class DigestTests
{
    public static TheoryData<string> Languages => ["en", "es"];

    [Theory]
    [MemberData(nameof(Languages))]
    public void Text_and_HTML_tell_every_notice_alike(string language)
    {
        foreach (var digest in (Digest[])[Mornings.Busy(language), Mornings.Stale(language), Many(60, language)])
        {
            var shown = new Shown(digest);
            foreach (var (bed, item) in digest.Sites.SelectMany(s => s.Beds).SelectMany(b => b.Items, (b, i) => (b, i)))
            {
                var draft = NoticeRows.Draft(item.Notice);
                shown.InBoth(bed.Name);
                shown.InBoth(shown.Words.Headline(draft));
                if (draft.Amount is { } litres)
                    shown.InBoth(shown.Words.Volume(litres));
                if (item.Role == DigestRole.Withdrawn)
                    shown.InBoth(shown.Words.Closing(NoticeEnd.Withdrawn, NoticeRows.ClosingOf(item.Notice)!.Value));
                else if (draft.Kind is NoticeKind.ExpectPins or NoticeKind.ExpectHarvest)
                    shown.InBoth(shown.Words.ShortDate(draft.Deadline));
                else
                    shown.InBoth(shown.Words.When(draft, digest.Day)[1..]); // its first letter may be a capital
            }
        }
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Text_and_HTML_tell_everything_of_the_letter_alike(string language)
    {
        foreach (var digest in (Digest[])[Mornings.Busy(language), Mornings.Quiet(language), Mornings.Stale(language), Many(60, language)])
        {
            var shown = new Shown(digest);
            foreach (var words in Everything(new LetterWriter(digest, shown.Words, withBeds: !shown.Html.Contains(shown.Words.BedsLeftOut, StringComparison.Ordinal), inFull: 40).Write()))
            {
                Assert.Contains(Shown.Flat(words), shown.Html, StringComparison.Ordinal);
                Assert.Contains(Shown.Flat(words), shown.Text, StringComparison.OrdinalIgnoreCase); // headings stand in capitals
            }
        }
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Every_notice_of_pins_or_harvest_names_the_lookalikes_of_its_species(string language)
    {
        foreach (var species in BedCatalogue.BuiltIn.Species.Values)
        {
            foreach (var role in (DigestRole[])[DigestRole.New, DigestRole.Changed, DigestRole.Open])
            {
                foreach (var (kind, code) in (ReadOnlySpan<(NoticeKind, ReasonCode)>)
                    [(NoticeKind.ExpectPins, ReasonCode.PinsAhead), (NoticeKind.ExpectHarvest, ReasonCode.HarvestAhead), (NoticeKind.ExpectHarvest, ReasonCode.FlushReady)])
                {
                    var item = Mornings.Role(role, Mornings.New(kind, 1, 3, NoticeConfidence.Likely, code, null, (ReasonNumber.LateDays, 2)));
                    var shown = new Shown(OneSite(language, Mornings.Bed(1, "Path bed", species, null, item)));
                    if (role != DigestRole.Open)
                        Assert.All(shown.Words.EatingCaution(species), shown.InBoth);
                    Assert.NotEmpty(species.Lookalikes);
                    Assert.All(species.Lookalikes, other => shown.InBoth(other.InLanguage(language).Name));
                }
            }
        }
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void A_caution_that_was_told_at_length_is_repeated_in_short_with_all_that_matters(string language)
    {
        var pins = Mornings.New(NoticeKind.ExpectPins, 1, 3, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (ReasonNumber.LateDays, 2));
        var shown = new Shown(OneSite(
            language, Mornings.Bed(1, "First", Mornings.WineCap, null, pins), Mornings.Bed(2, "Second", Mornings.WineCap, null, pins)));

        var full = shown.Words.EatingCaution(Mornings.WineCap);
        var second = shown.Html[shown.Html.LastIndexOf("Second (", StringComparison.Ordinal)..];
        Assert.Contains(Shown.Flat(shown.Words.EatingCautionInShort(Mornings.WineCap)), second, StringComparison.Ordinal);
        Assert.DoesNotContain(full[0], second, StringComparison.Ordinal);
        string[] matters = language == "en"
            ? ["safe", "certainty", "Galerina marginata", "spore print", "local expert", "Cook", "small portion"]
            : ["segura", "certeza", "Galerina marginata", "esporada", "persona experta", "Cocinar", "porción pequeña"];
        Assert.All(matters, word => Assert.Contains(word, shown.Words.EatingCautionInShort(Mornings.WineCap), StringComparison.Ordinal));
    }

    [Fact]
    public void Whatever_people_have_called_things_is_shown_and_does_nothing()
    {
        const string nasty = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'& \r\n\u202EBcc: x";
        const string seen = "<script>alert(1)</script><img src=x onerror=alert(2)>\"'& Bcc: x";
        var busy = Mornings.Busy("en");
        var digest = busy with
        {
            CooperativeName = nasty,
            Person = new Person { Name = nasty, Email = "ana@growers.invalid" },
            Sites =
            [
                .. busy.Sites.Select(site => site with
                {
                    Name = nasty,
                    Attribution = nasty + " javascript:alert(3) data:text/html,x",
                    Forecast = new ForecastInUse(1, nasty, Instant.FromUtc(2026, 10, 3, 0, 0), Duration.FromHours(50)),
                    Beds = [.. site.Beds.Select(bed => bed with { Name = nasty })],
                }),
            ],
        };

        var shown = new Shown(digest);

        Assert.Empty(shown.Page.QuerySelectorAll("script, img, iframe, link, object, form, [onerror], [href^='javascript'], [href^='data']"));
        shown.InBoth(seen);
        Assert.DoesNotContain(shown.Mail.Subject + shown.Mail.Text.Replace("\n", "", StringComparison.Ordinal), char.IsControl);
        Assert.DoesNotContain('\u202E', shown.Mail.Html + shown.Mail.Text);
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Nothing_in_the_HTML_is_fetched_and_links_lead_to_the_pages_or_to_the_weather_credit(string language)
    {
        var shown = new Shown(Mornings.Busy(language));

        Assert.Empty(shown.Page.QuerySelectorAll("script, img, iframe, link, object, video, audio, [src], [background]"));
        Assert.DoesNotContain("url(", shown.Mail.Html, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("@import", shown.Mail.Html, StringComparison.OrdinalIgnoreCase);
        var links = shown.Page.QuerySelectorAll("[href]").Select(link => link.GetAttribute("href")!).ToHashSet();
        Assert.Contains("https://beds.alder.invalid/beds/11", links);
        Assert.Contains("https://weather.invalid/terms", links);
        Assert.All(links, link => Assert.True(link.StartsWith("https://beds.alder.invalid/", StringComparison.Ordinal) || link == "https://weather.invalid/terms", link));
        Assert.All(Addresses().Matches(shown.Mail.Html + shown.Mail.Text), found => Assert.Matches(@"^https://(beds\.alder|weather)\.invalid/", found.Value));
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void The_HTML_can_be_read_on_a_small_screen_in_any_light_and_aloud(string language)
    {
        var shown = new Shown(Mornings.Busy(language));

        Assert.Equal(language, shown.Page.DocumentElement.GetAttribute("lang"));
        Assert.Equal("light dark", shown.Page.QuerySelector("meta[name=color-scheme]")!.GetAttribute("content"));
        Assert.All(shown.Page.QuerySelectorAll("table"), table => Assert.Equal("presentation", table.GetAttribute("role")));
        Assert.All(
            shown.Page.QuerySelectorAll("body *[style]:not(.pre)").SelectMany(e => Sizes().Matches(e.GetAttribute("style")!)),
            size => Assert.InRange(int.Parse(size.Groups[1].Value, CultureInfo.InvariantCulture), 16, 30));
        Assert.Single(shown.Page.QuerySelectorAll("h1"));
        Assert.Equal(["Alder Lane", "Mill Field"], shown.Page.QuerySelectorAll("h2").Select(h => h.TextContent));
        Assert.Empty(Widths().Matches(shown.Mail.Html));
    }

    [Theory]
    [InlineData(40)]
    [InlineData(250)]
    public void A_mail_about_many_beds_is_short_enough_to_be_shown_whole(int beds)
    {
        var shown = new Shown(Many(beds, "es"));

        Assert.InRange(Encoding.UTF8.GetByteCount(shown.Mail.Html), 1, 100_000);
        Assert.All(Enumerable.Range(1, beds), bed => shown.InBoth($"Bed number {bed}"));
    }

    [Theory]
    [MemberData(nameof(Languages))]
    public void Lines_of_the_text_are_short_but_for_links(string language) => Assert.All(
        new Shown(Mornings.Busy(language)).Mail.Text.Split('\n'),
        line => Assert.True(line.Length <= 72 || line.TrimStart().StartsWith("https://", StringComparison.Ordinal), line));

    [Fact]
    public void After_the_morning_nothing_speaks_of_the_morning()
    {
        var early = new Shown(Mornings.Busy("en"));
        var late = new Shown(Mornings.Busy("en") with { Late = true });

        early.InBoth("Good morning, Ana Ruiz.");
        // But for the name of the mail, where it can be stopped.
        var name = Words.For("en").StopDigests;
        Assert.DoesNotContain(
            "morning", (late.Text + late.Html + late.Mail.Subject).Replace(name, "", StringComparison.Ordinal), StringComparison.OrdinalIgnoreCase);
        late.InBoth("Today's list comes later than it should.");
        Assert.DoesNotContain("Buenos días", new Shown(Mornings.Busy("es") with { Late = true }).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void An_old_forecast_is_told_with_its_age_and_since_when()
    {
        var shown = new Shown(Mornings.Stale());

        shown.InBoth("The forecast is 2 days old, because Open weather has given no newer one since Saturday 3 October, 02:05.");
        Assert.DoesNotContain("forecast is", new Shown(Mornings.Quiet()).Text, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_forecast_that_is_said()
    {
        var quiet = Mornings.Quiet();
        var shown = new Shown(quiet with { Sites = [quiet.Sites[0] with { Forecast = null, Today = null, Ahead = [] }] });

        shown.InBoth("There is no forecast for this site");
        shown.InBoth("Today temperature unknown, rain unknown.");
        Assert.Equal("No forecast for your beds; 4 beds watched", shown.Mail.Subject);
    }

    private static Digest OneSite(string language, params DigestBed[] beds) =>
        Mornings.Busy(language) with { Sites = [Mornings.Site("Alder Lane", Mornings.Fresh, beds)] };

    private static Digest Many(int beds, string language) => OneSite(
        language,
        [
            .. Enumerable.Range(1, beds).Select(i => Mornings.Bed(
                i,
                $"Bed number {i}",
                BedCatalogue.BuiltIn.Species.Values.ElementAt(i % BedCatalogue.BuiltIn.Species.Count),
                Mornings.State(Phase.Pinning, LimitingFactor.Temperature, 0.5, 1, 0.7),
                i % 3 == 0
                    ? Mornings.New(NoticeKind.ExpectPins, 1, 3, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (ReasonNumber.LateDays, 2))
                    : Mornings.New(NoticeKind.Water, 0, 1, NoticeConfidence.Firm, ReasonCode.WaterLow, 10 + i, (ReasonNumber.Moisture, 0.3), (ReasonNumber.WaterMark, 0.45), (ReasonNumber.Days, 3)))),
        ]);

    private static IEnumerable<string> Everything(Letter letter) =>
    [
        letter.Cooperative, letter.Title, letter.Greeting, letter.Summary, letter.Page.Words, .. letter.Credits, .. letter.Foot,
        .. letter.Sites.SelectMany(site => (IEnumerable<string>)
        [
            site.Name, site.Weather, site.Warning ?? "", site.Quiet ?? "",
            .. new[] { site.ToDo, site.Coming }.Where(notices => notices.Any).SelectMany(notices => (IEnumerable<string>)
            [
                notices.Heading,
                .. notices.InFull.SelectMany(n => (IEnumerable<string>)
                    [n.Mark, n.Bed.Words, n.Species, n.Headline, n.Terms, n.Reason, n.Caution?.Heading ?? "", TextLetter.ShapeOf(n.Urgency)]),
                .. notices.InBrief.SelectMany(Of),
            ]),
            .. new[] { site.StillOpen, site.NoLongerNeeded, site.Beds, site.NextDays }.Where(lines => lines.Lines.Count > 0)
                .SelectMany(lines => lines.Lines.SelectMany(Of).Prepend(lines.Heading)),
        ]),
    ];

    private static IEnumerable<string> Of(LetterLine line) => [line.About.Words, line.Text, line.Caution ?? ""];

    [GeneratedRegex(@"https?://[^\s""<]+")]
    private static partial Regex Addresses();

    [GeneratedRegex(@"font-size:(\d+)px")]
    private static partial Regex Sizes();

    [GeneratedRegex(@"[^-]width:\s*(60[1-9]|6[1-9]\d|[7-9]\d\d|\d{4,})px")]
    private static partial Regex Widths();
}
