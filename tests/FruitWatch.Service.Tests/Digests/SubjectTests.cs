using FruitWatch.Model.Account;
using FruitWatch.Model.Notices;
using FruitWatch.Service.Digests;
using FruitWatch.Service.Text;

namespace FruitWatch.Service.Tests.Digests;

public sealed class SubjectTests
{
    private static readonly AccountDay s_state = Mornings.State(Phase.Ready, LimitingFactor.Soak, 1, 1, 0.7);

    [Fact]
    public void It_says_the_gist_of_the_day() =>
        Assert.Equal("Water Path bed today; pins soon in Orchard 2", Subject("en", Bed("Orchard 2", Pins()), Bed("Path bed", Water())));

    [Fact]
    public void In_Spanish_too() =>
        Assert.Equal("Regar Camino hoy; primordios pronto en Huerto 2", Subject("es", Bed("Huerto 2", Pins()), Bed("Camino", Water())));

    [Fact]
    public void Beds_with_the_same_thing_to_do_are_told_together() =>
        Assert.Equal("Water Path bed and 2 more today", Subject("en", Bed("Path bed", Water()), Bed("Oak 3", Water()), Bed("Hedge", Water())));

    [Fact]
    public void What_is_urgent_comes_first_and_is_called_so() =>
        Assert.Equal("Urgent: frost threatens Oak 3; water Path bed today", Subject("en", Bed("Path bed", Water()), Bed("Oak 3", Frost())));

    [Fact]
    public void What_finds_no_room_is_counted() =>
        Assert.Equal(
            "Urgent: frost threatens Oak 3; water Path bed today; 2 more",
            Subject("en", Bed("Path bed", Water()), Bed("Oak 3", Frost()), Bed("Corner by the mill", Pins()), Bed("Long hedge row", Check())));

    [Fact]
    public void A_quiet_morning_says_so() => Assert.Equal("Nothing to do today; 2 beds watched", Subject("en", Bed("Path bed"), Bed("Oak 3")));

    [Fact]
    public void What_is_still_open_is_not_nothing() =>
        Assert.Equal("Nothing new today; 1 still open", Subject("en", Bed("Path bed", Mornings.Open(Water()))));

    [Fact]
    public void What_was_taken_back_is_told() => Assert.Equal(
        "Nothing to do today; no longer needed: water (Path bed)", Subject("en", Bed("Path bed", Mornings.Withdrawn(ClosingCode.RainCame, Water()))));

    [Theory]
    [InlineData("en", "The forecast is 2 days old; 3 beds watched")]
    [InlineData("es", "El pronóstico es de hace 2 días; 3 camas en observación")]
    public void An_old_forecast_is_no_all_clear(string language, string subject)
    {
        var stale = Mornings.Stale(language);
        var quiet = stale with { Sites = [stale.Sites[0] with { Beds = [.. stale.Sites[0].Beds.Select(b => b with { Items = [] })] }] };

        Assert.Equal(subject, DigestWriter.Write(quiet, Words.For(language)).Subject);
    }

    [Fact]
    public void Beds_of_which_nothing_is_known_are_no_all_clear_either() => Assert.Equal(
        "No weather yet, so no word on your beds; 1 bed watched", Subject("en", Mornings.Bed(1, "Path bed", Mornings.WineCap, null)));

    [Theory]
    [InlineData("Path\r\nBcc: eve@elsewhere.invalid")]
    [InlineData("Path\0\u0085\u2028\u2029\t bed")]
    [InlineData("\u202Edeb htaP")]
    [InlineData("A bed whose name goes on and on, through the garden, over the hill and back again to where it began")]
    [InlineData("👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾👩‍🌾")]
    [InlineData("ñandú🍄")]
    public void It_is_one_short_line_whatever_a_bed_is_called(string name)
    {
        foreach (var language in (string[])["en", "es"])
        {
            foreach (var item in (DigestItem[])[Water(), Pins(), Frost(), Check(), Mornings.Withdrawn(ClosingCode.RainCame, Water())])
            {
                var subject = Subject(language, Bed(name, item), Bed(name, Pins()));
                Assert.InRange(subject.Length, 1, 70);
                Assert.DoesNotContain(subject, letter => char.IsControl(letter) || letter is '\u2028' or '\u2029' or '\u202E');
                Assert.Equal(subject, System.Text.Encoding.UTF8.GetString(System.Text.Encoding.UTF8.GetBytes(subject))); // no half characters
            }
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_of_notice_has_words_for_a_subject_in_every_language(NoticeKind kind)
    {
        foreach (var words in Words.All)
        {
            var draft = new NoticeDraft(kind, Mornings.Today, Mornings.Today, NoticeConfidence.Firm, NoticeReason.Of(ReasonCode.NothingLogged));
            Assert.Contains("Path bed", words.Gist(draft, "Path bed", Mornings.Today), StringComparison.Ordinal);
        }
    }

    public static TheoryData<NoticeKind> Kinds => [.. Enum.GetValues<NoticeKind>()];

    private static long s_bed;

    private static DigestBed Bed(string name, params DigestItem[] items) =>
        Mornings.Bed(Interlocked.Increment(ref s_bed), name, Mornings.WineCap, s_state, items);

    private static DigestItem Water() =>
        Mornings.New(NoticeKind.Water, 0, 0, NoticeConfidence.Firm, ReasonCode.WaterLow, 20, (ReasonNumber.Moisture, 0.3), (ReasonNumber.Days, 3));

    private static DigestItem Pins() =>
        Mornings.New(NoticeKind.ExpectPins, 3, 5, NoticeConfidence.Likely, ReasonCode.PinsAhead, null, (ReasonNumber.LateDays, 2));

    private static DigestItem Check() => Mornings.New(NoticeKind.WeeklyCheck, 0, 4, NoticeConfidence.Firm, ReasonCode.NothingLogged, null, (ReasonNumber.Days, 8));

    private static DigestItem Frost() => Mornings.Urgent(
        Mornings.New(NoticeKind.FrostAhead, 1, 0, NoticeConfidence.Firm, ReasonCode.FrostThreatens, null, (ReasonNumber.GroundMin, -4), (ReasonNumber.FrostMark, -2)));

    private static string Subject(string language, params DigestBed[] beds) => DigestWriter.Write(
        Mornings.Busy(language) with { Sites = [Mornings.Site("Alder Lane", Mornings.Fresh, beds)] }, Words.For(language)).Subject;
}
