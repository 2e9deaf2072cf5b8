using System.Globalization;
using System.Text.Json.Nodes;
using NodaTime;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class ConditionalTests : IDisposable
{
    private const string Url = "https://alder-lane.example/daily";
    private const string Monday = "Mon, 04 May 2026 06:00:00 GMT";

    private readonly PretendNet net = new();
    private readonly Fetcher fetcher;

    public ConditionalTests() => fetcher = new Fetcher(net: net);

    private Asked Last => net.Log.Last();

    public void Dispose()
    {
        fetcher.Dispose();
        net.Dispose();
    }

    [Theory]
    [InlineData("lastModified", Monday, null)]
    [InlineData("etag", null, "W/\"a1\"")]
    [InlineData("none", null, null)]
    public async Task News_only_is_asked_for_as_the_description_says(string conditional, string? since, string? tag)
    {
        Says(Said.Ok);
        await FetchAsync(conditional, new FeedValidators("W/\"a1\"", Monday));
        Assert.Equal((since, tag), (Last.Header("If-Modified-Since"), Last.Header("If-None-Match")));
    }

    [Theory]
    [InlineData("W/\"a,b c\"", "Mon, 04 May 2026 06:00:00 GMT")]
    [InlineData("\"\"", "Monday, 04-May-26 06:00:00 GMT")]
    [InlineData("a1-without-quotes", "Mon May  4 06:00:00 2026")]
    public async Task The_marks_go_back_letter_by_letter_as_they_came(string tag, string modified)
    {
        Says(Said.Ok with { Headers = ["ETag: " + tag, "Last-Modified: " + modified] });
        var first = await FetchAsync("etag");
        Assert.Equal(new FeedValidators(tag, modified), first.Validators);
        Assert.Equal(Instant.FromUtc(2026, 5, 4, 6, 0), first.LastModified);

        await FetchAsync("etag", first.Validators);
        Assert.Equal(tag, Last.Header("If-None-Match"));
        await FetchAsync("lastModified", first.Validators);
        Assert.Equal(modified, Last.Header("If-Modified-Since"));
    }

    [Fact]
    public async Task Nothing_new_is_an_answer_without_a_body_whose_marks_hold_on()
    {
        Says(new Said(304, "", "application/json", "Cache-Control: max-age=600"));
        var fetched = await FetchAsync("lastModified", new FeedValidators(null, Monday));
        Assert.True(fetched.NotModified);
        Assert.True(fetched.Body.IsEmpty);
        Assert.Equal(new FeedValidators(null, Monday), fetched.Validators);
        Assert.Equal(fetched.FetchedAt + Duration.FromMinutes(10), fetched.Expires);
        Assert.Single(net.Log);
    }

    [Fact]
    public async Task Nothing_new_to_somebody_who_knows_nothing_is_asked_once_more()
    {
        net.Site("alder-lane.example", _ => net.Log.Count == 1 ? new Said(304) : Said.Ok);
        Assert.False((await FetchAsync("lastModified")).NotModified);
        Assert.Equal(2, net.Log.Count);
    }

    [Fact]
    public async Task Nothing_new_again_is_refused()
    {
        Says(new Said(304));
        var refusal = await Assert.ThrowsAsync<FeedException>(() => FetchAsync("lastModified"));
        Assert.Equal((FeedCodes.UnexpectedStatus, false), (refusal.Code, refusal.Permanent));
        Assert.Equal(2, net.Log.Count);
    }

    [Fact]
    public async Task A_time_in_the_future_is_neither_kept_nor_asked_with()
    {
        var ahead = InMinutes(60);
        Says(Said.Ok with { Headers = ["Last-Modified: " + ahead] });
        var first = await FetchAsync("lastModified", new FeedValidators(null, ahead));
        Assert.Null(Last.Header("If-Modified-Since"));
        Assert.Equal((null, null), (first.Validators.LastModified, first.LastModified));
    }

    [Fact]
    public async Task A_clock_that_is_a_little_fast_is_forgiven()
    {
        var ahead = InMinutes(3);
        Says(Said.Ok with { Headers = ["Last-Modified: " + ahead] });
        var first = await FetchAsync("lastModified", new FeedValidators(null, ahead));
        Assert.Equal((ahead, ahead), (Last.Header("If-Modified-Since"), first.Validators.LastModified));
    }

    [Theory]
    [InlineData("yesterday")]
    [InlineData("Mon, 04 May 2026 06:00:00 GMT\r\nX-Evil: 1")]
    [InlineData("")]
    public async Task What_is_no_time_is_not_asked_with(string kept)
    {
        Says(Said.Ok);
        await FetchAsync("lastModified", new FeedValidators(null, kept));
        Assert.Null(Last.Header("If-Modified-Since"));
        Assert.Null(Last.Header("X-Evil"));
    }

    [Fact]
    public async Task Another_spelling_of_the_answer_is_asked_for_without_conditions()
    {
        Says(Said.Ok);
        await FetchAsync("lastModified");
        var usual = Last.Header("Accept");
        await FetchAsync("lastModified", new FeedValidators(null, Monday), alternative: true);
        Assert.Equal(("application/json", "application/json, */*;q=0.1"), (usual, Last.Header("Accept")));
        Assert.Null(Last.Header("If-Modified-Since"));
    }

    [Theory]
    [InlineData(60, "Cache-Control: max-age=3600")]
    [InlineData(60, "Cache-Control: public, max-age=98, s-maxage=3600")]
    [InlineData(45, "Cache-Control: max-age=3600", "Age: 900")]
    [InlineData(null, "Cache-Control: max-age=3600", "Age: 3600")]
    [InlineData(1440, "Cache-Control: max-age=864000")]
    [InlineData(null, "Cache-Control: no-store")]
    [InlineData(null, "Cache-Control: no-cache, max-age=3600")]
    [InlineData(null, "Cache-Control: max-age=0")]
    [InlineData(60, "Date: Mon, 04 May 2026 06:00:00 GMT", "Expires: Mon, 04 May 2026 07:00:00 GMT")]
    [InlineData(30, "Date: Mon, 04 May 2026 06:00:00 GMT", "Expires: Mon, 04 May 2026 07:00:00 GMT", "Age: 1800")]
    [InlineData(null, "Expires: Mon, 04 May 2020 07:00:00 GMT")]
    [InlineData(null, "Expires: 0")]
    [InlineData(60, "Cache-Control: max-age=3600", "Expires: Mon, 04 May 2020 07:00:00 GMT")]
    public async Task A_success_says_how_long_it_holds(int? minutes, params string[] headers)
    {
        Says(Said.Ok with { Headers = headers });
        var fetched = await FetchAsync("none");
        Assert.Equal(minutes is { } known ? fetched.FetchedAt + Duration.FromMinutes(known) : null, fetched.Expires);
    }

    [Fact]
    public async Task Expiry_is_left_out_where_the_description_does_not_honour_it()
    {
        Says(Said.Ok with { Headers = ["Cache-Control: max-age=3600"] });
        Assert.Null((await FetchAsync("none", change: json => json["refresh"]!["honourExpires"] = false)).Expires);
    }

    [Fact]
    public async Task An_error_that_calls_itself_good_for_a_day_binds_nobody()
    {
        Says(new Said(500, "", "text/plain", "Cache-Control: public, max-age=86400", "Expires: Mon, 04 May 2099 07:00:00 GMT"));
        var refusal = await Assert.ThrowsAsync<FeedException>(() => FetchAsync("none"));
        Assert.Null(refusal.RetryAfter);
        Assert.Equal(3, net.Log.Count);
    }

    private static string InMinutes(int minutes) => TimeProvider.System.GetUtcNow().AddMinutes(minutes).ToString("R", CultureInfo.InvariantCulture);

    private void Says(Said said) => net.Site("alder-lane.example", _ => said);

    private Task<FetchedFeed> FetchAsync(string conditional, FeedValidators? known = null, bool alternative = false, Action<JsonNode>? change = null) => fetcher.FetchAsync(
        Url,
        new FeedRequest(Fetcher.Today) { IfChanged = known, AlternativeAccept = alternative },
        json =>
        {
            json["refresh"]!["conditional"] = conditional;
            change?.Invoke(json);
        });
}
