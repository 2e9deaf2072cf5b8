using System.Net;
using FruitWatch.Service.Jobs;
using FruitWatch.Service.Tests.Access;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Webhooks;

public sealed class WebhooksApiTests
{
    [Fact]
    public async Task A_webhook_is_made_with_its_secret_shown_once_changed_tested_and_deleted()
    {
        await using var run = await HookRun.StartAsync();
        using var api = new ApiClient(run.Service);
        var made = await api.SendAsync("POST", "/api/v1/webhooks", $$"""{"name":"Shed","address":"{{run.Receiver.Address}}","events":["bed.made"]}""");
        Assert.Equal(HttpStatusCode.Created, made.Status);
        var secret = made.Json.GetProperty("secret").GetString()!;
        var read = await api.GetAsync(made.Location!);
        Assert.DoesNotContain(secret[6..], read.Text + (await api.GetAsync("/api/v1/webhooks")).Text, StringComparison.Ordinal);
        await using (var store = run.Service.Store())
            Assert.DoesNotContain(secret[6..], (await store.Webhooks.SingleAsync(row => row.Id != run.Service.Invented.Webhook, TestContext.Current.CancellationToken)).SealedSecret, StringComparison.Ordinal);

        var test = await api.SendAsync("POST", made.Location + "/test", null);
        Assert.Equal(HttpStatusCode.Accepted, test.Status);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", made.Location + "/test", null)).Status);
        await run.Sender.SendDueAsync(default);
        var sent = await api.GetAsync(test.Location!);
        Assert.Equal(("delivered", "webhook.test"), (sent.Json.GetProperty("delivery").GetProperty("state").GetString(), sent.Json.GetProperty("body").GetProperty("type").GetString()));

        var again = await api.SendAsync("POST", test.Location + "/resend", null);
        Assert.Equal(("pending", 0), (again.Json.GetProperty("state").GetString(), again.Json.GetProperty("attempts").GetInt32()));
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", test.Location + "/resend", null)).Status);
        await run.Sender.SendDueAsync(default);
        Assert.Single(run.Receiver.Came.Select(one => one.Id).Distinct());
        Assert.Equal(2, run.Receiver.Came.Count);

        var off = await api.SendAsync("PUT", made.Location!, $$"""{"name":"Shed","address":"{{run.Receiver.Address}}","events":["bed.made"],"active":false}""", ("If-Match", read.ETag!));
        Assert.Equal(HttpStatusCode.OK, off.Status);
        Assert.Equal(HttpStatusCode.PreconditionFailed, (await api.SendAsync("DELETE", made.Location!, null, ("If-Match", read.ETag!))).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", test.Location + "/resend", null)).Status);
        Assert.Equal(HttpStatusCode.NoContent, (await api.SendAsync("DELETE", made.Location!, null)).Status);
        Assert.Equal(HttpStatusCode.NotFound, (await api.GetAsync(test.Location!)).Status);
    }

    [Theory]
    [InlineData("""{"name":"","address":"https://example.org/","events":["bed.made"]}""", "name")]
    [InlineData("""{"name":"two\nlines","address":"https://example.org/","events":["bed.made"]}""", "name")]
    [InlineData("""{"name":"x","address":"http://example.org/","events":["bed.made"]}""", "address")]
    [InlineData("""{"name":"x","address":"https://10.0.0.1/","events":["bed.made"]}""", "address")]
    [InlineData("""{"name":"x","address":"https://example.org/","events":[]}""", "events")]
    [InlineData("""{"name":"x","address":"https://example.org/","events":["bed.eaten"]}""", "events")]
    [InlineData("""{"name":"x","address":"https://example.org/","events":["bed.made","bed.made"]}""", "events")]
    [InlineData("""{"name":"x","address":"https://example.org/","events":["webhook.test"]}""", "events")]
    [InlineData("""{"name":"x","address":"https://example.org/","events":["bed.made"],"secret":"whsec_x"}""", "secret")]
    public async Task A_webhook_that_cannot_be_is_refused_by_field(string body, string field)
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var refused = await api.SendAsync("POST", "/api/v1/webhooks", body);
        Assert.Equal(HttpStatusCode.BadRequest, refused.Status);
        Assert.Equal([field], refused.Refused);
    }

    [Fact]
    public async Task There_can_be_twenty_and_the_next_one_is_refused()
    {
        await using var run = await HookRun.StartAsync();
        using var api = new ApiClient(run.Service);
        for (var i = 0; i < 19; i++)
            Assert.Equal(HttpStatusCode.Created, (await api.SendAsync("POST", "/api/v1/webhooks", """{"name":"x","address":"https://example.org/","events":["bed.made"]}""")).Status);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", "/api/v1/webhooks", """{"name":"x","address":"https://example.org/","events":["bed.made"]}""")).Status);
    }

    [Fact]
    public async Task Bodies_go_after_thirty_days_deliveries_after_half_a_year()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);
        using var api = new ApiClient(run.Service);
        var at = $"/api/v1/webhooks/{row.Id}/deliveries";
        run.Clock.AdvanceDays(29);
        await NightAsync();
        var id = (await api.GetAsync(at)).Json.GetProperty("items")[0].GetProperty("id").GetInt64();
        Assert.Equal(System.Text.Json.JsonValueKind.Object, (await api.GetAsync($"{at}/{id}")).Json.GetProperty("body").ValueKind);
        run.Clock.AdvanceDays(2);
        await NightAsync();
        Assert.Equal(System.Text.Json.JsonValueKind.Null, (await api.GetAsync($"{at}/{id}")).Json.GetProperty("body").ValueKind);
        Assert.Equal(HttpStatusCode.Conflict, (await api.SendAsync("POST", $"{at}/{id}/resend", null)).Status);
        run.Clock.AdvanceDays(150);
        await NightAsync();
        Assert.Empty(await run.DeliveriesAsync());

        async Task NightAsync()
        {
            await using var scope = run.Service.Services.CreateAsyncScope();
            await scope.ServiceProvider.GetRequiredService<HousekeepingJobs>().NightAsync(default);
        }
    }

    [Fact]
    public async Task On_the_pages_a_webhook_is_made_shown_once_tested_sent_again_and_deleted()
    {
        await using var run = await HookRun.StartAsync();
        using var browser = run.Service.Browser();
        var page = await browser.OpenAsync("/cooperative/webhooks");
        using var refused = await browser.SubmitAsync(page.QuerySelector("main form button")!, ("name", "Shed"), ("address", "http://10.0.0.1/"), ("events", "bed.made"));
        Assert.Equal(HttpStatusCode.BadRequest, refused.StatusCode);
        Assert.Contains("https://", (await HtmlPage.ReadAsync(refused)).QuerySelector("[role=alert]")!.Read(), StringComparison.Ordinal);
        using var made = await browser.SubmitAsync(page.QuerySelector("main form button")!, ("name", "Shed"), ("address", run.Receiver.Address), ("events", "bed.made"));
        var shown = await HtmlPage.ReadAsync(made);
        var secret = shown.QuerySelector(".secret code")!.TextContent;
        Assert.StartsWith("whsec_", secret, StringComparison.Ordinal);
        Assert.Contains("no-store", made.Headers.CacheControl!.ToString(), StringComparison.Ordinal);
        var address = shown.QuerySelector(".secret a")!.GetAttribute("href")!;

        var own = await browser.OpenAsync(address);
        Assert.DoesNotContain(secret, own.DocumentElement.OuterHtml, StringComparison.Ordinal);
        await browser.SubmitAsync(own.QuerySelector("form[action$='test'] button")!);
        await run.Sender.SendDueAsync(default);
        own = await browser.OpenAsync(address);
        Assert.Contains("arrived", own.QuerySelector("ol.deliveries li")!.Read(), StringComparison.Ordinal);
        await browser.SubmitAsync(own.QuerySelector("form[action$='resend'] button")!);
        await run.Sender.SendDueAsync(default);
        Assert.Equal(2, run.Receiver.Came.Count);

        using var rotated = await browser.SubmitAsync(own.QuerySelector("form[action$='rotate'] button")!);
        Assert.NotEqual(secret, (await HtmlPage.ReadAsync(rotated)).QuerySelector(".secret code")!.TextContent);
        await browser.SubmitAsync(own.QuerySelector("form[action$='delete'] button")!);
        await using var store = run.Service.Store();
        Assert.Equal(run.Service.Invented.Webhook, (await store.Webhooks.SingleAsync(TestContext.Current.CancellationToken)).Id);
    }

    [Fact]
    public async Task Growers_see_no_webhooks_and_other_cooperatives_none_of_ours()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        var grower = await Member.JoinAsync(run.Service.Services, run.Service.Invented.Cooperative, Role.Grower, "Rowan Field");
        using (var client = run.Service.Client(grower))
        {
            Assert.Equal(HttpStatusCode.Forbidden, (await client.GetAsync("/api/v1/webhooks", TestContext.Current.CancellationToken)).StatusCode);
            Assert.Equal(HttpStatusCode.Forbidden, (await client.GetAsync("/cooperative/webhooks", TestContext.Current.CancellationToken)).StatusCode);
        }

        long other;
        await using (var store = run.Service.Store())
        {
            var others = new Cooperative { Name = "Others" };
            store.Add(others);
            await store.SaveChangesAsync(TestContext.Current.CancellationToken);
            other = others.Id;
        }

        var stranger = await Member.JoinAsync(run.Service.Services, other, Role.Coordinator, "Otto Stranger");
        using var theirs = run.Service.Client(stranger);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.GetAsync($"/api/v1/webhooks/{row.Id}", TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.GetAsync($"/cooperative/webhooks/{row.Id}", TestContext.Current.CancellationToken)).StatusCode);
        Assert.Equal(HttpStatusCode.NotFound, (await theirs.PostAsync($"/api/v1/webhooks/{row.Id}/test", null, TestContext.Current.CancellationToken)).StatusCode);
    }
}
