using NodaTime;
using WireMock.RequestBuilders;
using WireMock.ResponseBuilders;
using WireMock.Server;

namespace FruitWatch.Feeds.Tests.Fetching;

public sealed class HostTests : IDisposable
{
    private const int FailuresToRest = 4;

    private readonly WireMockServer failing = WireMockServer.Start();
    private readonly WireMockServer healthy = WireMockServer.Start();
    private readonly Fetcher fetcher = new(failuresToRest: FailuresToRest);

    private string Failing => failing.Url + "/daily";

    private string Healthy => healthy.Url + "/daily";

    public void Dispose()
    {
        failing.Dispose();
        healthy.Dispose();
        fetcher.Dispose();
    }

    [Fact]
    public async Task A_host_that_fails_again_and_again_is_left_alone_and_no_other()
    {
        Answer(failing, Response.Create().WithStatusCode(503));
        Answer(healthy, Ok());
        await RestAsync();

        var refusal = await fetcher.RefusedAsync(Failing);
        await fetcher.FetchAsync(Healthy);

        Assert.Equal((FeedCodes.HostResting, false), (refusal.Code, refusal.Permanent));
        Assert.InRange(refusal.RetryAfter!.Value, Duration.FromMinutes(9), Duration.FromMinutes(10));
        Assert.Equal(FailuresToRest, failing.LogEntries.Count);
    }

    [Fact]
    public async Task After_the_rest_one_request_tries_the_host_and_success_ends_the_rest()
    {
        Answer(failing, Response.Create().WithStatusCode(503));
        await RestAsync();
        failing.Reset();
        Answer(failing, Ok());

        fetcher.Time.Shift = TimeSpan.FromMinutes(11);
        await fetcher.FetchAsync(Failing);
        await fetcher.FetchAsync(Failing);

        Assert.Equal(2, failing.LogEntries.Count);
    }

    [Fact]
    public async Task A_failure_of_the_trial_sends_the_host_back_to_rest()
    {
        Answer(failing, Response.Create().WithStatusCode(503));
        await RestAsync();

        fetcher.Time.Shift = TimeSpan.FromMinutes(11);
        var refusal = await fetcher.RefusedAsync(Failing);

        Assert.Equal(FeedCodes.HostResting, refusal.Code);
        Assert.Equal(FailuresToRest + 1, failing.LogEntries.Count);
    }

    [Fact]
    public async Task A_success_in_between_starts_the_count_anew()
    {
        Answer(failing, Response.Create().WithStatusCode(503));
        await fetcher.RefusedAsync(Failing);
        failing.Reset();
        Answer(failing, Ok());
        await fetcher.FetchAsync(Failing);
        failing.Reset();
        Answer(failing, Response.Create().WithStatusCode(503));
        Assert.Equal(FeedCodes.ServerError, (await fetcher.RefusedAsync(Failing)).Code);
    }

    [Fact]
    public async Task A_long_pause_asked_for_is_kept_without_a_single_request()
    {
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", "120"));
        var first = await fetcher.RefusedAsync(Failing);
        var second = await fetcher.RefusedAsync(Failing);

        Assert.Equal((FeedCodes.RateLimited, false), (first.Code, first.Permanent));
        Assert.Equal(Duration.FromSeconds(120), first.RetryAfter);
        Assert.Equal(FeedCodes.RateLimited, second.Code);
        Assert.InRange(second.RetryAfter!.Value, Duration.FromSeconds(60), Duration.FromSeconds(120));
        Assert.Single(failing.LogEntries);
    }

    [Fact]
    public async Task Once_the_pause_is_over_the_host_is_asked_again()
    {
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", "120"));
        await fetcher.RefusedAsync(Failing);
        failing.Reset();
        Answer(failing, Ok());
        fetcher.Time.Shift = TimeSpan.FromSeconds(121);
        await fetcher.FetchAsync(Failing);
    }

    [Fact]
    public async Task A_short_pause_is_waited_for()
    {
        failing.Given(Request.Create().WithPath("/daily")).InScenario("pause").WillSetStateTo("over")
            .RespondWith(Response.Create().WithStatusCode(429).WithHeader("Retry-After", "0"));
        failing.Given(Request.Create().WithPath("/daily")).InScenario("pause").WhenStateIs("over").RespondWith(Ok());
        await fetcher.FetchAsync(Failing);
        Assert.Equal(2, failing.LogEntries.Count);
    }

    [Fact]
    public async Task Without_a_stated_pause_the_host_is_left_alone_until_the_full_minute_then_the_hour()
    {
        Answer(failing, Response.Create().WithStatusCode(429));
        var first = await fetcher.RefusedAsync(Failing);
        Assert.InRange(first.RetryAfter!.Value, Duration.Zero, Duration.FromMinutes(1));

        fetcher.Time.Shift = TimeSpan.FromMinutes(1);
        var second = await fetcher.RefusedAsync(Failing);
        Assert.InRange(second.RetryAfter!.Value, Duration.Zero, Duration.FromHours(1));
        Assert.Equal(2, failing.LogEntries.Count);
    }

    [Fact]
    public async Task Too_many_requests_are_no_failure_of_the_host()
    {
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", "0"));
        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(FeedCodes.RateLimited, (await fetcher.RefusedAsync(Failing)).Code);
            fetcher.Time.Shift += TimeSpan.FromSeconds(1);
        }
    }

    [Fact]
    public async Task A_pause_may_end_at_a_date()
    {
        var until = TimeProvider.System.GetUtcNow().AddMinutes(2).ToString("R", System.Globalization.CultureInfo.InvariantCulture);
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", until));
        Assert.InRange((await fetcher.RefusedAsync(Failing)).RetryAfter!.Value, Duration.FromSeconds(100), Duration.FromSeconds(121));
    }

    [Theory]
    [InlineData("31536000")]
    [InlineData("Fri, 31 Dec 2100 23:59:59 GMT")]
    public async Task A_pause_is_kept_for_a_day_at_most(string wish)
    {
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", wish));
        Assert.Equal(Duration.FromDays(1), (await fetcher.RefusedAsync(Failing)).RetryAfter);
    }

    [Fact]
    public async Task A_failing_server_that_asks_for_an_hour_gets_it()
    {
        Answer(failing, Response.Create().WithStatusCode(503).WithHeader("Retry-After", "3600"));
        Assert.Equal(FeedCodes.ServerError, (await fetcher.RefusedAsync(Failing)).Code);
        Assert.Equal(FeedCodes.RateLimited, (await fetcher.RefusedAsync(Failing)).Code);
        Assert.Single(failing.LogEntries);
    }

    [Fact]
    public async Task A_pause_holds_over_a_restart_and_on_another_server()
    {
        Answer(failing, Response.Create().WithStatusCode(429).WithHeader("Retry-After", "3600"));
        await fetcher.RefusedAsync(Failing);
        using var other = new Fetcher();
        other.Client.Remember(fetcher.Client.HostStates());
        Assert.Equal(FeedCodes.RateLimited, (await other.RefusedAsync(Failing)).Code);
        Assert.Equal(new Uri(Failing).GetLeftPart(UriPartial.Authority), other.Client.HostStates().Single().Authority);
        Assert.Single(failing.LogEntries);
    }

    [Fact]
    public async Task Failures_are_counted_on_over_a_restart()
    {
        Answer(failing, Response.Create().WithStatusCode(503));
        await fetcher.RefusedAsync(Failing);
        using var other = new Fetcher(failuresToRest: FailuresToRest);
        other.Client.Remember(fetcher.Client.HostStates());
        Assert.Equal(FeedCodes.HostResting, (await other.RefusedAsync(Failing)).Code);
        Assert.Equal(FailuresToRest, failing.LogEntries.Count);
    }

    [Fact]
    public async Task Two_requests_to_a_host_are_under_way_together_and_no_third()
    {
        using var net = new PretendNet();
        using var gate = new ManualResetEventSlim();
        using var polite = new Fetcher(net: net);
        net.Site("alder-lane.example", _ =>
        {
            gate.Wait(TimeSpan.FromMinutes(2));
            return Said.Ok;
        });
        net.Site("oak-lane.example", _ => Said.Ok);

        var fetches = Enumerable.Range(0, 6).Select(_ => polite.FetchAsync("https://alder-lane.example/daily")).ToList();
        Assert.True(SpinWait.SpinUntil(() => net.Log.Count == 2, TimeSpan.FromMinutes(1)));
        await polite.FetchAsync("https://oak-lane.example/daily"); // Another host is not kept waiting.
        Assert.Equal(2, net.Log.Count(asked => asked.Host == "alder-lane.example"));

        gate.Set();
        await Task.WhenAll(fetches);
        Assert.Equal(6, net.Log.Count(asked => asked.Host == "alder-lane.example"));
    }

    [Fact]
    public async Task Waiting_for_others_of_us_is_not_being_late()
    {
        using var net = new PretendNet();
        using var polite = new Fetcher(deadline: TimeSpan.FromSeconds(6), net: net, perSecond: 20);
        net.Site("alder-lane.example", _ =>
        {
            Thread.Sleep(1200);
            return Said.Ok;
        });
        // Twelve answers of 1.2 s, two at a time: 7.2 s.
        await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => polite.FetchAsync("https://alder-lane.example/daily")));
        Assert.Equal(12, net.Log.Count);
    }

    private static IResponseBuilder Ok() =>
        Response.Create().WithBody("""{"ok":1}""").WithHeader("Content-Type", "application/json");

    private static void Answer(WireMockServer server, IResponseBuilder response) =>
        server.Given(Request.Create().WithPath("/daily")).RespondWith(response);

    // Three tries, then one more: four failures in a row.
    private async Task RestAsync()
    {
        Assert.Equal(FeedCodes.ServerError, (await fetcher.RefusedAsync(Failing)).Code);
        Assert.Equal(FeedCodes.HostResting, (await fetcher.RefusedAsync(Failing)).Code);
    }
}
