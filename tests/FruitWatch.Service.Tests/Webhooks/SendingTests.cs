using System.Text.Json;
using FruitWatch.Service.Operating;
using FruitWatch.Service.Tests.Channels.Email;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Webhooks;
using FruitWatch.Store.Entities;
using FruitWatch.Store.Queries;
using Microsoft.AspNetCore.Http;
using Microsoft.EntityFrameworkCore;
using NodaTime;
using StandardWebhooks;
using StandardWebhooks.Diagnostics;

namespace FruitWatch.Service.Tests.Webhooks;

/// <summary>Source: Standard Webhooks 1.0.0 (github.com/standard-webhooks/standard-webhooks, spec/standard-webhooks.md).</summary>
public sealed class SendingTests
{
    [Fact]
    public async Task A_receiver_can_check_the_signature_with_a_library_of_others_and_a_changed_body_fails()
    {
        // The library holds the time against the machine's own.
        await using var run = await HookRun.StartAsync(at: Clocks.System.GetCurrentInstant());
        var (row, secret) = await run.AddAsync();
        await run.TellAsync(row);
        Assert.Equal(new WebhookRun(1, 0, 0), await run.Sender.SendDueAsync(default));

        var came = Assert.Single(run.Receiver.Came);
        new StandardWebhook(secret).Verify(came.Body, came.Headers);
        Assert.Throws<WebhookVerificationException>(() => new StandardWebhook(secret).Verify(came.Body + " ", came.Headers));
        Assert.Throws<WebhookVerificationException>(() => new StandardWebhook(WebhookKeys.Draw()).Verify(came.Body, came.Headers));
        Assert.StartsWith("whsec_", secret, StringComparison.Ordinal);
        Assert.InRange(Convert.FromBase64String(secret["whsec_".Length..]).Length, 24, 64);
        Assert.DoesNotContain('.', came.Id);
        Assert.Equal("application/json", came.Headers["Content-Type"].ToString());
        var body = JsonDocument.Parse(came.Body).RootElement;
        Assert.Equal(["type", "timestamp", "data"], body.EnumerateObject().Select(field => field.Name));
    }

    /// <summary>The example by which the standard holds its own libraries: libraries/python/tests/test_webhooks.py, test_sign_function.</summary>
    [Fact]
    public void The_signature_is_the_published_one() => Assert.Equal(
        "v1,g0hM9SsE+OTPJTGt/tmIKtSyZlE3uFJELVlNIOLJ1OE=",
        WebhookKeys.Sign("whsec_MfKQ9r8GKYqrTwjUPD8ILPZIo2LaLaSw", "msg_p5jXN8AQM9LWM0D4loKWxJek", 1614265330, """{"test": 2432232314}"""));

    [Fact]
    public async Task A_receiver_that_fails_is_tried_again_after_each_wait_under_the_same_identifier_and_given_up_at_last()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row);
        run.Receiver.Says(503);
        foreach (var wait in WebhookSender.Waits)
        {
            Assert.Equal(new WebhookRun(0, 1, 0), await run.Sender.SendDueAsync(default));
            run.Clock.Advance(wait - Duration.FromMilliseconds(1));
            Assert.Equal(new WebhookRun(0, 0, 0), await run.Sender.SendDueAsync(default));
            run.Clock.Advance(Duration.FromMilliseconds(1));
        }

        Assert.Equal(new WebhookRun(0, 0, 1), await run.Sender.SendDueAsync(default));
        var sent = Assert.Single(await run.DeliveriesAsync());
        Assert.Equal((DeliveryState.Failed, 7, 503, DeliveryErrors.Status), (sent.State, sent.Attempts, sent.LastStatus, sent.LastError));
        Assert.Equal(7, run.Receiver.Came.Count);
        Assert.Single(run.Receiver.Came.Select(one => one.Id).Distinct());
        Assert.Equal(7, run.Receiver.Came.Select(one => one.Headers["webhook-timestamp"].ToString()).Distinct().Count());
        // 34 hours: long enough to mend a program, too short to stop it.
        Assert.True((await run.ReadAsync(row.Id)).Active);
    }

    [Fact]
    public async Task What_arrives_at_the_second_attempt_is_delivered_and_the_webhook_no_longer_failing()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row);
        run.Receiver.Answer = (count, context) =>
        {
            context.Response.StatusCode = count == 1 ? 500 : 200;
            return context.Response.WriteAsync(new string('x', 100_000));
        };
        await run.Sender.SendDueAsync(default);
        Assert.NotNull((await run.ReadAsync(row.Id)).FailingSince);
        run.Clock.AdvanceSeconds(5);
        await run.Sender.SendDueAsync(default);
        var sent = Assert.Single(await run.DeliveriesAsync());
        Assert.Equal((DeliveryState.Delivered, 2, 200, null), (sent.State, sent.Attempts, sent.LastStatus, sent.LastError));
        Assert.Null((await run.ReadAsync(row.Id)).FailingSince);
        await run.Sender.SendDueAsync(default);
        Assert.Equal(2, run.Receiver.Came.Count);
    }

    [Fact]
    public async Task Told_to_stop_in_the_middle_of_a_claim_it_attempts_what_it_has_got_and_holds_nothing()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row);
        using var stop = new CancellationTokenSource();
        await using var store = run.Service.Store();
        using var claimed = AfterCommand.Of(store, "'sending', \"Owner\"", stop.Cancel);
        Assert.Equal(new WebhookRun(1, 0, 0), await run.Sender.SendDueAsync(stop.Token));

        Assert.True(claimed.Done);
        Assert.Equal(DeliveryState.Delivered, Assert.Single(await run.DeliveriesAsync()).State);
    }

    [Fact]
    public async Task Gone_stops_the_webhook_at_once_and_the_coordinators_are_told_once()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row, 3);
        await run.Service.JoinAsync(Role.Coordinator, "Comes Back");
        await using (var before = run.Service.Store())
            await before.People.Where(person => person.Name == "Comes Back").ExecuteUpdateAsync(set => set.SetProperty(person => person.MailPausedAt, Pages.InventedCooperative.Now));
        run.Receiver.Says(410);
        await run.Sender.SendDueAsync(default);
        run.Clock.AdvanceHours(48);
        await run.Sender.SendDueAsync(default);

        Assert.Single(run.Receiver.Came);
        var stopped = await run.ReadAsync(row.Id);
        Assert.Equal((false, WebhookStopping.Gone), (stopped.Active, stopped.StoppedWhy));
        var sent = await run.DeliveriesAsync();
        Assert.All(sent, one => Assert.Equal(DeliveryState.Failed, one.State));
        Assert.Equal([DeliveryErrors.Gone, DeliveryErrors.Stopped, DeliveryErrors.Stopped], sent.Select(one => one.LastError));
        await using var store = run.Service.Store();
        var mail = Assert.Single(await store.Outbox.Where(mail => mail.Key.StartsWith("webhook-stopped:")).ToListAsync());
        Assert.Equal("The webhook Shed display was stopped", mail.Subject);
        Assert.Contains($"/cooperative/webhooks/{row.Id}", mail.TextBody, StringComparison.Ordinal);
        Assert.Equal(run.Service.Coordinator.PersonId, mail.PersonId);
    }

    [Fact]
    public async Task A_delivery_over_which_a_sender_died_when_it_stopped_the_webhook_is_ended_at_night_or_when_it_is_switched_on()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row, 2);
        await using (var store = run.Service.Store())
        {
            Assert.NotNull(await Deliveries.ClaimAsync(store, "killed", run.Clock.GetCurrentInstant(), Duration.FromMinutes(2)));
            await store.Webhooks.ExecuteUpdateAsync(set => set.SetProperty(hook => hook.Active, false));
        }

        run.Clock.AdvanceMinutes(3);
        using var api = new Api.ApiClient(run.Service);
        var path = $"/api/v1/webhooks/{row.Id}";
        var on = await api.SendAsync("PUT", path, $$"""{"name":"Shed display","address":"{{row.Address}}","events":["notice.opened"],"active":true}""");
        Assert.True(on.Status == System.Net.HttpStatusCode.OK, on.Text);

        Assert.All(await run.DeliveriesAsync(), one => Assert.Equal((DeliveryState.Failed, DeliveryErrors.Stopped), (one.State, one.LastError)));
        Assert.Equal(0, (await run.Sender.SendDueAsync(default)).Delivered);
    }

    [Fact]
    public async Task Five_days_of_failures_stop_a_webhook_and_one_success_in_between_does_not()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        foreach (var (day, status) in new[] { (0, 500), (4, 200), (5, 500), (6, 500), (9, 500) })
        {
            run.Clock.Reset(Pages.InventedCooperative.Now + Duration.FromDays(day));
            run.Receiver.Says(status);
            await run.TellAsync(row);
            await run.Sender.SendDueAsync(default);
            Assert.True((await run.ReadAsync(row.Id)).Active, $"day {day}");
        }

        run.Clock.Reset(Pages.InventedCooperative.Now + Duration.FromDays(10));
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);
        Assert.Equal(WebhookStopping.Failing, (await run.ReadAsync(row.Id)).StoppedWhy);
    }

    [Fact]
    public async Task Redirects_are_not_followed()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        run.Receiver.Says(307, ("Location", run.Receiver.Address + "/elsewhere"));
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);
        Assert.Equal("/hook", Assert.Single(run.Receiver.Came).Path);
        var last = Assert.Single(await run.DeliveriesAsync());
        Assert.Equal((307, DeliveryErrors.Redirect), (last.LastStatus, last.LastError));
    }

    [Fact]
    public async Task A_receiver_that_is_silent_is_given_its_time_and_no_more()
    {
        await using var run = await HookRun.StartAsync(reach: new WebhookReach { Longest = TimeSpan.FromMilliseconds(300) });
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row);
        run.Receiver.Answer = (_, context) => Task.Delay(Timeout.Infinite, context.RequestAborted).ContinueWith(_ => { }, TaskScheduler.Default);
        await run.Sender.SendDueAsync(default);
        var last = Assert.Single(await run.DeliveriesAsync());
        Assert.Equal((null, DeliveryErrors.Timeout), (last.LastStatus, last.LastError));
    }

    [Fact]
    public async Task A_receiver_that_asks_to_be_left_alone_is_left_alone()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row, 2);
        run.Receiver.Says(429, ("Retry-After", "600"));
        await run.Sender.SendDueAsync(default);
        run.Clock.AdvanceMinutes(9);
        await run.Sender.SendDueAsync(default);
        Assert.Single(run.Receiver.Came);
        run.Receiver.Says(200);
        run.Clock.AdvanceMinutes(1);
        await run.Sender.SendDueAsync(default);
        Assert.Equal(3, run.Receiver.Came.Count);
    }

    [Fact]
    public async Task A_dead_receiver_holds_up_nobody_else()
    {
        await using var run = await HookRun.StartAsync(count: 2, reach: new WebhookReach { Longest = TimeSpan.FromMinutes(10) });
        var (dead, _) = await run.AddAsync();
        var (well, _) = await run.AddAsync(run.At(1).Address);
        var held = new TaskCompletionSource();
        run.At(0).Answer = (_, _) => held.Task;
        await run.TellAsync(dead, 20);
        await run.TellAsync(well, 20);
        var sending = run.Sender.SendDueAsync(default);
        using (var limit = new CancellationTokenSource(TimeSpan.FromMinutes(5)))
        {
            while (run.At(1).Came.Count < 20)
                await Task.Delay(20, limit.Token);
        }

        // One at a time: the rest of the dead one's lane waits.
        Assert.Single(run.At(0).Came);
        held.SetResult();
        await sending;
    }

    [Fact]
    public async Task Deliveries_of_one_webhook_come_in_their_order_and_two_senders_at_once_double_none()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row, 40);
        var runs = await Task.WhenAll(run.Sender.SendDueAsync(default), run.Sender.SendDueAsync(default));
        Assert.Equal(40, runs.Sum(one => one.Delivered));
        Assert.Equal((await run.DeliveriesAsync()).Select(one => one.MessageId), run.Receiver.Came.Select(one => one.Id));
        Assert.All(await run.DeliveriesAsync(), one => Assert.Equal(1, one.Attempts));
    }

    [Fact]
    public async Task What_a_sender_that_was_killed_had_in_hand_is_sent_again_when_its_claim_is_over()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await run.TellAsync(row, 2);
        await using (var store = run.Service.Store())
            Assert.NotNull(await Deliveries.ClaimAsync(store, "killed", run.Clock.GetCurrentInstant(), Duration.FromMinutes(2)));
        Assert.Equal(0, (await run.Sender.SendDueAsync(default)).Delivered);
        run.Clock.AdvanceMinutes(2);
        Assert.Equal(2, (await run.Sender.SendDueAsync(default)).Delivered);
        Assert.Equal([2, 1], (await run.DeliveriesAsync()).Select(one => one.Attempts));
    }

    [Fact]
    public async Task While_a_secret_is_changed_both_sign_and_after_a_day_only_the_new_one()
    {
        await using var run = await HookRun.StartAsync();
        var (row, old) = await run.AddAsync();
        using var api = new Api.ApiClient(run.Service);
        var rotated = await api.SendAsync("POST", $"/api/v1/webhooks/{row.Id}/rotate-secret", null);
        var fresh = rotated.Json.GetProperty("secret").GetString()!;
        Assert.NotEqual(old, fresh);
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);
        run.Clock.AdvanceHours(24);
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);

        var came = run.Receiver.Came.ToArray();
        Assert.Equal([Signed(fresh, came[0]), Signed(old, came[0])], came[0].Headers["webhook-signature"].ToString().Split(' '));
        Assert.Equal(Signed(fresh, came[1]), came[1].Headers["webhook-signature"].ToString());

        static string Signed(string secret, Received one) => WebhookKeys.Sign(
            secret, one.Id, long.Parse(one.Headers["webhook-timestamp"].ToString(), System.Globalization.CultureInfo.InvariantCulture), one.Body);
    }

    [Fact]
    public async Task A_secret_sealed_with_lost_keys_sends_nothing_and_says_so()
    {
        await using var run = await HookRun.StartAsync();
        var (row, _) = await run.AddAsync();
        await using (var store = run.Service.Store())
            await store.Webhooks.ExecuteUpdateAsync(set => set.SetProperty(hook => hook.SealedSecret, "not sealed here"), TestContext.Current.CancellationToken);
        await run.TellAsync(row);
        await run.Sender.SendDueAsync(default);
        Assert.Empty(run.Receiver.Came);
        Assert.Equal(DeliveryErrors.SecretLost, Assert.Single(await run.DeliveriesAsync()).LastError);
    }
}
