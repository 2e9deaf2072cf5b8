using System.Net;
using FruitWatch.Service.Tests.Api;
using FruitWatch.Service.Tests.Deeds;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Service.Tests.People;
using FruitWatch.Service.Tests.SignIn;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.Channels.Email.Bounces;

/// <summary>Nothing is sent to an address that takes no mail, and everything again once another one counts.</summary>
public sealed class PauseEndTests
{
    [Fact]
    public async Task A_new_address_that_its_holder_confirms_is_written_to()
    {
        await using var service = await Doors.OpenAsync();
        var (_, person) = await service.MemberAsync();
        await PauseAsync(service, person.Id);
        using var visit = new Visit(service);
        await visit.SignedInAsync();
        using (await visit.SubmitAsync("/account/security", "form[action*=address]", ("email", "new@example.org"), ("present", Doors.Password)))
        {
        }

        var (_, link) = await service.MailAsync("new@example.org", "Confirm your new address");
        Assert.NotNull(await PausedAsync(service, person.Id));
        using (var done = await visit.SubmitAsync(link, "form.card"))
            Assert.Equal(HttpStatusCode.OK, done.StatusCode);

        Assert.Null(await PausedAsync(service, person.Id));
    }

    [Fact]
    public async Task A_coordinator_who_changes_the_address_ends_the_pause_and_one_who_changes_the_name_does_not()
    {
        await using var service = await TestService.StartAsync();
        using var api = new ApiClient(service);
        var made = await PeopleApiTests.InviteAsync(api, "viewer");
        var id = PeopleApiTests.IdOf(made);
        await PauseAsync(service, id);

        var now = await PeopleApiTests.ChangeAsync(api, await api.GetAsync(PeopleApiTests.Path(id)), new { name = "Another Name" });
        Assert.NotNull(await PausedAsync(service, id));
        var moved = await PeopleApiTests.ChangeAsync(api, await api.GetAsync(PeopleApiTests.Path(id)), new { email = PeopleApiTests.NewAddress() });

        Assert.Equal((HttpStatusCode.OK, HttpStatusCode.OK), (now.Status, moved.Status));
        Assert.Null(await PausedAsync(service, id));
    }

    /// <summary>A coordinator cannot change an address that its holder has confirmed, and is not told to.</summary>
    [Theory]
    [InlineData(true, "en", "can change it", "correct the address")]
    [InlineData(false, "en", "correct the address", "can change it")]
    [InlineData(true, "es", "puede cambiarla", "corregir la dirección")]
    [InlineData(false, "es", "corregir la dirección", "puede cambiarla")]
    public async Task The_note_says_what_can_be_done(bool confirmed, string language, string said, string notSaid)
    {
        await using var back = await ReturnedMail.StartAsync();
        await back.Service.ChangeAsync(back.Ana, person => person.EmailConfirmedAt = confirmed ? InventedCooperative.Now : null);
        var pilar = await back.JoinAsync("Pilar", Role.Coordinator, language);

        await back.ComesBackAsync("postfix-like");
        await back.ComesBackAsync("postfix-like");

        var note = Assert.Single(await back.NotesAsync(), note => note.PersonId == pilar);
        Assert.Contains(said, note.TextBody.ReplaceLineEndings(" "), StringComparison.Ordinal);
        Assert.DoesNotContain(notSaid, note.TextBody.ReplaceLineEndings(" "), StringComparison.Ordinal);
    }

    private static Task PauseAsync(TestService service, long id) =>
        service.ChangeAsync(id, row => (row.MailPausedAt, row.MailPausedWhy) = (InventedCooperative.Now, "550 5.1.1 no such mailbox"));

    private static async Task<Instant?> PausedAsync(TestService service, long id)
    {
        await using var store = service.Store();
        return await store.People.Where(row => row.Id == id).Select(row => row.MailPausedAt).SingleAsync();
    }
}
