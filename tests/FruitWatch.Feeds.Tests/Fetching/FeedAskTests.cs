using System.Text;
using System.Text.Json.Nodes;
using FruitWatch.Feeds.Fetching;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class FeedAskTests
{
    private const string Operator = "FruitWatch/1.0 (ops@alder-lane.example)";

    private static readonly FeedRequest Today = new(new LocalDate(2026, 5, 5));

    [Theory]
    [InlineData(51.123456, "{}", "51.1235")]
    [InlineData(51.123456, """{"truncate":true}""", "51.1234")]
    [InlineData(-2.98, """{"decimals":2}""", "-2.98")]
    [InlineData(51, "{}", "51.0000")]
    [InlineData(51.5, """{"trimZeros":true}""", "51.5")]
    [InlineData(-0.00001, """{"trimZeros":true}""", "0")]
    [InlineData(-0.00001, "{}", "0.0000")]
    [InlineData(-0.00009, """{"truncate":true}""", "0.0000")]
    [InlineData(-0.0, "{}", "0.0000")]
    [InlineData(-2.98769, """{"truncate":true}""", "-2.9876")]
    [InlineData(-2.98769, "{}", "-2.9877")]
    [InlineData(-122.3100, """{"trimZeros":true}""", "-122.31")]
    [InlineData(-122.31009, """{"trimZeros":true,"truncate":true}""", "-122.31")]
    [InlineData(100, """{"trimZeros":true}""", "100")]
    [InlineData(0.1, """{"decimals":1,"truncate":true}""", "0.1")]
    [InlineData(0.29, """{"decimals":2,"truncate":true}""", "0.29")]
    [InlineData(51.99999, "{}", "52.0000")]
    public void Coordinates_are_cut_as_the_provider_asks(double latitude, string rule, string written) =>
        Assert.Equal(
            "https://alder-lane.example/" + written,
            Ask("https://alder-lane.example/{latitude}", request => request["coordinates"] = JsonNode.Parse(rule), Fetcher.Site with { Latitude = latitude }).ShownUrl);

    [Theory]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(1e30)]
    public void A_place_that_is_none_is_told_before_anything_is_sent(double latitude) =>
        Assert.Equal(
            FeedCodes.RequestIncomplete,
            Assert.Throws<FeedException>(() => Ask("https://alder-lane.example/{latitude}", site: Fetcher.Site with { Latitude = latitude })).Code);

    [Theory]
    [InlineData(-0.3, "0")]
    [InlineData(14.6, "15")]
    [InlineData(-3.5, "-4")]
    public void An_elevation_is_a_whole_number(double metres, string written) =>
        Assert.Equal("https://alder-lane.example/" + written, Ask("https://alder-lane.example/{altitude}", site: Fetcher.Site with { Elevation = metres }).ShownUrl);

    [Theory]
    [InlineData(null, Operator)]
    [InlineData("{userAgent}", Operator)]
    [InlineData("Alder/2 {userAgent}", "Alder/2 " + Operator)]
    [InlineData("Mozilla/5.0", "Mozilla/5.0 " + Operator)]
    public void The_operator_is_named_whatever_the_description_says(string? described, string sent)
    {
        var ask = Ask("https://alder-lane.example/", request =>
        {
            request["headers"]!.AsObject().Remove("User-Agent");
            if (described is not null)
                request["headers"]!["user-agent"] = described;
        });
        using var message = ask.Message();
        Assert.Equal([sent], message.Headers.NonValidated["User-Agent"]);
    }

    [Fact]
    public void Places_are_told_apart_by_their_rounded_address_and_not_by_the_date()
    {
        const string Url = "https://alder-lane.example/{latitude}/{longitude}?from={start}&to={end}&back={back}&days={ahead}";
        var ask = Ask(Url);
        var neighbour = Ask(Url, site: Fetcher.Site with { Latitude = Fetcher.Site.Latitude + 0.00001 }, request: new FeedRequest(new LocalDate(2026, 6, 1)) { Start = new LocalDate(2026, 1, 1) });
        Assert.Equal("https://alder-lane.example/51.0200/-2.9800?from={start}&to={end}&back={back}&days={ahead}", ask.PlaceUrl);
        Assert.Equal(ask.PlaceUrl, neighbour.PlaceUrl);
        Assert.NotEqual(ask.PlaceUrl, Ask(Url, site: Fetcher.Site with { Latitude = 51.03 }).PlaceUrl);
    }

    [Theory]
    [InlineData("{start}/{end}", "2026-04-28/2026-05-13")]
    [InlineData("{back}/{ahead}", "7/8")]
    [InlineData("{altitude}", "14")]
    [InlineData("{timeZone}", "Europe%2FLondon")]
    [InlineData("a,b%20c", "a,b%20c")]
    public void Placeholders_are_filled_and_the_rest_keeps_its_spelling(string path, string written) =>
        Assert.Equal("https://alder-lane.example/?q=" + written, Ask("https://alder-lane.example/?q=" + path).Uri.OriginalString);

    [Fact]
    public void Days_asked_for_take_the_place_of_the_usual_ones()
    {
        var request = Today with { Start = new LocalDate(2026, 4, 1), End = new LocalDate(2026, 4, 30) };
        Assert.Equal("https://alder-lane.example/2026-04-01/2026-04-30/34", Ask("https://alder-lane.example/{start}/{end}/{back}", request: request).ShownUrl);
    }

    [Fact]
    public void A_station_may_not_break_out_of_its_place_in_the_address() =>
        Assert.Equal(
            "https://alder-lane.example/..%2F%3Fx%3D1%23%7Bkey%7D.csv",
            Ask("https://alder-lane.example/{station}.csv", site: Fetcher.Site with { Station = "../?x=1#{key}" }).Uri.OriginalString);

    [Theory]
    [InlineData("{station}", "station")]
    [InlineData("{altitude}", "elevation")]
    public void What_the_site_lacks_is_named_before_anything_is_sent(string path, string word)
    {
        var refusal = Assert.Throws<FeedException>(() => Ask("https://alder-lane.example/" + path, site: Fetcher.Site with { Elevation = null }));
        Assert.Equal((FeedCodes.RequestIncomplete, true), (refusal.Code, refusal.Permanent));
        Assert.Contains(word, refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_key_may_be_the_user_name_of_basic_authentication()
    {
        var ask = Ask("https://alder-lane.example/", request => request["secret"] = JsonNode.Parse("""{"placeholder":"key","in":"basicUser"}"""), request: Today with { Key = "abc" });
        Assert.Contains(KeyValuePair.Create("Authorization", "Basic " + Convert.ToBase64String(Encoding.UTF8.GetBytes("abc:"))), ask.Headers);
        Assert.Equal("https://alder-lane.example/", ask.ShownUrl);
    }

    private static FeedAsk Ask(string url, Action<JsonNode>? change = null, FeedSite? site = null, FeedRequest? request = null) =>
        FeedAsk.For(
            Fetcher.Described(url, json => change?.Invoke(json["request"]!)),
            site ?? Fetcher.Site,
            request ?? Today,
            new FeedClientOptions { UserAgent = Operator });
}
