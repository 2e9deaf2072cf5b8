using System.Net;
using System.Text;
using FruitWatch.Service.Tests.Api.Contract;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Web.Conduct;
using FruitWatch.Store.Entities;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;
using NodaTime;
using NodaTime.Testing;

namespace FruitWatch.Service.Tests.Api;

/// <summary>Writes sent again (draft-ietf-httpapi-idempotency-key-header-07; test 37 of service-standards.md).</summary>
public sealed class OnceTests(OneService running) : IClassFixture<OneService>
{
    private static readonly string s_log = "/api/v1/beds/1/log";
    private const string Entry = """{"kind":"watered","on":"2026-10-10","amount":7}""";

    [Fact]
    public async Task The_same_request_has_one_effect_and_the_same_answer()
    {
        using var http = running.Service.Client();
        var before = await CountAsync();
        var first = await SendAsync(http, "same-1", Entry);
        var second = await SendAsync(http, "\"same-1\"", Entry);

        Assert.Equal(HttpStatusCode.Created, first.StatusCode);
        Assert.Equal(HttpStatusCode.Created, second.StatusCode);
        Assert.Equal(await first.Content.ReadAsStringAsync(), await second.Content.ReadAsStringAsync());
        Assert.Equal(first.Headers.Location, second.Headers.Location);
        Assert.Equal("application/json", second.Content.Headers.ContentType?.MediaType);
        Assert.False(first.Headers.Contains(Idempotency.ReplayedHeader));
        Assert.Equal("true", Assert.Single(second.Headers.GetValues(Idempotency.ReplayedHeader)));
        Assert.Equal(before + 1, await CountAsync());
    }

    [Fact]
    public async Task Of_many_at_once_one_is_done_and_the_others_hear_that_it_is_or_what_it_gave()
    {
        using var http = running.Service.Client();
        var before = await CountAsync();
        var answers = await Task.WhenAll(Enumerable.Range(0, 12).Select(_ => SendAsync(http, "crowd", Entry)));

        Assert.All(answers, answer => Assert.True(answer.StatusCode is HttpStatusCode.Created or HttpStatusCode.Conflict, answer.StatusCode.ToString()));
        Assert.Single(answers, answer => answer.StatusCode == HttpStatusCode.Created && !answer.Headers.Contains(Idempotency.ReplayedHeader));
        Assert.All(answers.Where(answer => answer.StatusCode == HttpStatusCode.Conflict), answer => Assert.NotNull(answer.Headers.RetryAfter));
        Assert.Equal(before + 1, await CountAsync());
    }

    [Theory]
    [InlineData("/api/v1/beds/1/log", """{"kind":"watered","on":"2026-10-10","amount":8}""")]
    [InlineData("/api/v1/beds/2/log", Entry)]
    public async Task Another_body_or_address_under_the_same_key_is_refused_and_does_nothing(string address, string body)
    {
        using var http = running.Service.Client();
        var key = "other-" + address.Length + body.Length;
        Assert.Equal(HttpStatusCode.Created, (await SendAsync(http, key, Entry)).StatusCode);
        var before = await CountAsync();
        var other = await SendAsync(http, key, body, address);
        Assert.Equal(HttpStatusCode.UnprocessableEntity, other.StatusCode);
        Assert.Equal(before, await CountAsync());
    }

    [Fact]
    public async Task Keys_of_two_callers_do_not_meet()
    {
        var other = await Access.Member.JoinAsync(running.Service.Services, running.Service.Invented.Cooperative, Role.Coordinator, "Ash Newbury");
        using var mine = running.Service.Client();
        using var theirs = running.Service.Client(other);
        var before = await CountAsync();
        await SendAsync(mine, "shared", Entry);
        var answer = await SendAsync(theirs, "shared", Entry);
        Assert.False(answer.Headers.Contains(Idempotency.ReplayedHeader));
        Assert.Equal(before + 2, await CountAsync());
    }

    [Theory]
    [InlineData("")]
    [InlineData("\"\"")]
    [InlineData("two words")]
    [InlineData("a,b")]
    [InlineData("x", 201)]
    public async Task A_key_that_is_none_is_refused(string key, int times = 1)
    {
        using var http = running.Service.Client();
        var answer = await SendAsync(http, string.Concat(Enumerable.Repeat(key, times)), Entry);
        Assert.Equal(HttpStatusCode.BadRequest, answer.StatusCode);
        Assert.Contains("Idempotency-Key", await answer.Content.ReadAsStringAsync(), StringComparison.Ordinal);
    }

    [Fact]
    public async Task What_was_refused_did_nothing_and_leaves_the_key_free()
    {
        using var http = running.Service.Client();
        Assert.Equal(HttpStatusCode.BadRequest, (await SendAsync(http, "mended", Entry.Replace("7", "-7"))).StatusCode);
        Assert.Equal(HttpStatusCode.Created, (await SendAsync(http, "mended", Entry)).StatusCode);
    }

    [Fact]
    public async Task A_failure_undoes_what_was_begun_and_is_not_kept()
    {
        var broken = true;
        await using var service = await TestService.StartAsync(map: app => app.MapPost("/api/v1/test-breaks", async (Store.FruitWatchStore store) =>
        {
            store.Sites.Add(new Site { CooperativeId = store.Reach.CooperativeId, Name = "Half made", ZoneId = "Europe/Madrid" });
            await store.SaveChangesAsync();
            return broken ? throw new InvalidOperationException("a fault") : Results.StatusCode(204);
        }).AllowAnonymous());
        using var http = new HttpClient { BaseAddress = service.Address };
        service.Coordinator.Dress(http, cookies: false);
        Assert.Equal(HttpStatusCode.InternalServerError, (await SendAsync(http, "breaks", "", "/api/v1/test-breaks")).StatusCode);
        await using (var store = service.Store())
            Assert.False(await store.Sites.AnyAsync(site => site.Name == "Half made"));
        broken = false;
        Assert.Equal(HttpStatusCode.NoContent, (await SendAsync(http, "breaks", "", "/api/v1/test-breaks")).StatusCode);
        await using (var store = service.Store())
            Assert.Equal(1, await store.Sites.CountAsync(site => site.Name == "Half made"));
    }

    /// <summary>A service that died left its reservation behind: nothing was done under it, so that it is done after a while.</summary>
    [Fact]
    public async Task What_died_half_way_is_done_when_its_time_is_over_and_not_before()
    {
        var clock = new FakeClock(InventedCooperative.Now);
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IClock>(clock));
        using var http = service.Client();
        await SendAsync(http, "died", Entry);
        await using (var store = service.Store())
            await store.IdempotentRequests.ExecuteUpdateAsync(set => set.SetProperty(row => row.Status, (int?)null).SetProperty(row => row.Body, (string?)null));
        Assert.Equal(HttpStatusCode.Conflict, (await SendAsync(http, "died", Entry)).StatusCode);
        clock.Advance(Idempotency.Lease + Duration.FromSeconds(1));
        var again = await SendAsync(http, "died", Entry);
        Assert.Equal(HttpStatusCode.Created, again.StatusCode);
        Assert.False(again.Headers.Contains(Idempotency.ReplayedHeader));
    }

    [Fact]
    public async Task After_a_day_a_key_is_new_and_the_old_answers_are_thrown_away()
    {
        var clock = new FakeClock(InventedCooperative.Now);
        await using var service = await TestService.StartAsync(services => services.AddSingleton<IClock>(clock));
        using var http = service.Client();
        await SendAsync(http, "old", Entry);
        await SendAsync(http, "older", Entry);
        clock.Advance(Idempotency.Kept + Duration.FromSeconds(1));
        Assert.False((await SendAsync(http, "old", Entry)).Headers.Contains(Idempotency.ReplayedHeader));
        await ActivatorUtilities.CreateInstance<RequestsKept>(service.Services).ClearAsync(CancellationToken.None);
        await using var store = service.Store();
        Assert.Equal("old", Assert.Single(await store.IdempotentRequests.ToListAsync()).Key);
    }

    /// <summary>Every POST of the description, sent twice under one key: no operation is left out, and none breaks in the transaction.</summary>
    [Fact]
    public async Task Every_post_of_the_description_can_be_sent_again()
    {
        await using var service = await ExampleScene.StartAsync();
        var contract = await ContractHandler.OfAsync(service.Address);
        var run = new ExampleRun(service, contract);
        var wrong = new List<string>();
        foreach (var operation in run.InOrder().ToList())
        {
            if (operation.Method != "POST")
            {
                await run.SendAsync(operation);
                continue;
            }

            var first = await run.SendAsync(operation, request => request.Headers.Add(Idempotency.HeaderName, operation.Id));
            var kept = await run.AgainAsync(operation, request => request.Headers.Add(Idempotency.HeaderName, operation.Id));
            if (first.Status is < 200 or >= 300 || kept.Status != first.Status || kept.Replayed is false)
                wrong.Add($"{operation.Id}: {first.Status}, then {kept.Status}, given again: {kept.Replayed}\n{string.Join('\n', service.Faults.Told)}");
        }

        Assert.True(wrong.Count == 0, string.Join("\n", wrong));
        // Test of secrets: what was shown once stands nowhere among what is kept.
        await using var store = service.Store();
        Assert.All(await store.IdempotentRequests.Where(row => row.Body != null).ToListAsync(), row => Assert.DoesNotMatch("fw_[0-9]+_[A-Za-z0-9_-]{43}", row.Body));
    }

    private static async Task<HttpResponseMessage> SendAsync(HttpClient http, string key, string body, string? address = null)
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, address ?? s_log) { Content = new StringContent(body, Encoding.UTF8, "application/json") };
        request.Headers.TryAddWithoutValidation(Idempotency.HeaderName, key);
        return await http.SendAsync(request);
    }

    private async Task<int> CountAsync()
    {
        await using var store = running.Service.Store();
        return await store.LogEntries.CountAsync();
    }
}
