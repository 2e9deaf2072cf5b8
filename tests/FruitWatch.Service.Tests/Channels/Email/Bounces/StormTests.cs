using FruitWatch.Store.Entities;
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
}
