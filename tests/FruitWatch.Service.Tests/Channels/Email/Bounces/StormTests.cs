using FruitWatch.Service.Channels.Email.Bounces;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>A relay that fails, or a name that has got bad, is no reason to leave out every member.</summary>
public sealed class StormTests
{
    [Theory]
    [InlineData(true)]
    [InlineData(false)]
    public async Task Where_mail_to_everybody_comes_back_nobody_is_paused_and_the_log_says_so_once(bool overTwoDays)
    {
        await using var back = await ReturnedMail.StartAsync();
        var people = new List<long> { back.Ana };
        foreach (var name in new[] { "Ben", "Cleo", "Dov", "Ena", "Fay" })
            people.Add(await back.JoinAsync(name, Role.Grower));
        var waiting = await back.MailAsync("urgent", MailState.Pending);
        for (var round = 0; round < (overTwoDays ? 2 : 1); round++)
        {
            foreach (var person in people)
            {
                for (var i = 0; i < (overTwoDays ? 1 : 2); i++)
                    await back.ComesBackAsync("postfix-like", await back.MailAsync(to: person));
            }

            if (overTwoDays && round == 0)
                back.Clock.Advance(Duration.FromDays(1));
        }

        foreach (var person in people)
            Assert.Null((await back.PersonAsync(person)).MailPausedAt);
        Assert.Empty(await back.NotesAsync());
        Assert.Single(back.Log.Warnings, line => line.StartsWith("Mail to 5 members or more", StringComparison.Ordinal));
        await using var store = back.Service.Store();
        if (!overTwoDays)
            Assert.Equal((MailState.Pending, null), ((await store.Outbox.FindAsync(waiting.Id))!.State, (await store.Outbox.FindAsync(waiting.Id))!.LastError));

        // The next day an address that is truly gone is still found.
        back.Clock.Advance(Duration.FromDays(1));
        await back.ComesBackAsync("postfix-like");
        Assert.Null((await back.PersonAsync()).MailPausedAt);
        back.Clock.Advance(Duration.FromDays(1));
        await back.ComesBackAsync("postfix-like");
        Assert.NotNull((await back.PersonAsync()).MailPausedAt);
    }

    [Fact]
    public async Task Where_as_many_again_and_one_more_got_their_mail_those_that_came_back_are_paused()
    {
        await using var back = await ReturnedMail.StartAsync();
        var people = new List<long> { back.Ana };
        for (var i = 0; i < 10; i++)
            people.Add(await back.JoinAsync($"Member{i}", Role.Grower));
        foreach (var person in people)
            await back.MailAsync(to: person);

        foreach (var person in people.Take(5))
        {
            await back.ComesBackAsync("postfix-like", await back.MailAsync(to: person));
            await back.ComesBackAsync("postfix-like", await back.MailAsync(to: person));
        }

        foreach (var person in people.Take(5))
            Assert.NotNull((await back.PersonAsync(person)).MailPausedAt);
    }

    /// <summary>What is finished loses its links that act; one that went out without them would offer nothing, and could not be stopped.</summary>
    [Fact]
    public async Task Of_what_was_ended_for_nothing_only_what_still_is_whole_and_of_use_waits_again()
    {
        await using var back = await ReturnedMail.StartAsync();
        var whole = await back.MailAsync(state: MailState.Expired, error: PausedMails.Why);
        var hidden = await back.MailAsync(state: MailState.Expired, error: PausedMails.Why);
        var late = await back.MailAsync(state: MailState.Expired, error: PausedMails.Why);
        var other = await back.MailAsync(state: MailState.Expired);
        await using var store = back.Service.Store();
        await store.Outbox.Where(mail => mail.Id == hidden.Id).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.TextBody, "Stop: https://beds.invalid/stop/…"));
        await store.Outbox.Where(mail => mail.Id == late.Id).ExecuteUpdateAsync(set => set.SetProperty(mail => mail.NotAfter, back.Clock.GetCurrentInstant()));

        await MailPause.TakeBackAsync(store, back.Ana, back.Clock.GetCurrentInstant(), CancellationToken.None);

        long[] ours = [whole.Id, hidden.Id, late.Id, other.Id];
        Assert.Equal([whole.Id], await store.Outbox.Where(mail => ours.Contains(mail.Id) && mail.State == MailState.Pending).Select(mail => mail.Id).ToListAsync());
    }
}
