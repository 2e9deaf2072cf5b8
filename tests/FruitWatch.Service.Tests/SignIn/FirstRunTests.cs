using System.Net;
using FruitWatch.Service.Operating;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Cooperatives;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store.Entities;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>The first account, and those that the terminal makes (ASVS 5.0 6.3.2: no default accounts; 6.4.1: random, short-lived, once).</summary>
public sealed class FirstRunTests
{
    [Fact]
    public async Task The_start_prints_an_address_that_makes_the_first_account_once()
    {
        await using var service = await EmptyAsync();
        var path = await OfferedAsync(service);
        using var visit = new Visit(service);
        using (var made = await visit.SubmitAsync(path, "form.card", Filled("maren@example.org")))
            Assert.Equal("/sign-in/advice?back=%2F", made.Headers.Location!.OriginalString);
        Assert.True(await visit.IsInAsync());
        await using (var store = service.Store())
        {
            var account = await store.Accounts.SingleAsync();
            Assert.True(account.Operator);
            Assert.False(account.EmailConfirmed); // a mistyped address gets no way in
            var person = await store.People.SingleAsync(row => row.AccountId == account.Id);
            Assert.Equal(Role.Coordinator, person.Role);
            Assert.Equal("Hollow Oak", (await store.Cooperatives.SingleAsync(row => row.Id == person.CooperativeId)).Name);
        }

        await service.MailAsync("maren@example.org", "Confirm your address");
        using (var again = await visit.Browser.GetAsync(path))
            Assert.Equal(HttpStatusCode.Gone, again.StatusCode);
        using var output = new StringWriter();
        await ServeVerb.OfferSetupAsync(service.Services, output);
        Assert.Equal("", output.ToString());
    }

    [Theory]
    [InlineData("sqlite")]
    [InlineData("postgres")]
    public async Task Servers_that_start_at_the_same_moment_all_start_and_one_code_holds(string provider)
    {
        await using var stores = await TestStores.OpenAsync(provider);
        var codes = await Task.WhenAll(Enumerable.Range(0, 6).Select(_ => Task.Run(async () =>
        {
            await using var store = stores.Factory.CreateDbContext();
            return await FirstRun.OfferAsync(store, stores.Clock);
        })));
        await using var kept = stores.Factory.CreateDbContext();
        var open = 0;
        foreach (var code in codes)
            open += await FirstRun.FindAsync(kept, code!, stores.Clock, default) is null ? 0 : 1;
        Assert.Equal(1, open);
    }

    [Fact]
    public async Task It_is_good_for_an_hour_and_the_next_start_gives_another()
    {
        await using var service = await EmptyAsync();
        var first = await OfferedAsync(service);
        var second = await OfferedAsync(service);
        using var visit = new Visit(service);
        Assert.Null((await visit.Browser.OpenAsync(first)).QuerySelector("form.card"));
        Assert.Null((await visit.Browser.OpenAsync("/setup/nothing")).QuerySelector("form.card"));
        Assert.NotNull((await visit.Browser.OpenAsync(second)).QuerySelector("form.card"));
        service.Clock().Advance(Duration.FromMinutes(61));
        Assert.Null((await visit.Browser.OpenAsync(second)).QuerySelector("form.card"));
        await using var store = service.Store();
        Assert.DoesNotContain(second.Split('/')[^1], string.Join(' ', store.Settings.Select(row => row.Value)), StringComparison.Ordinal);
    }

    [Fact]
    public async Task Of_two_at_the_same_moment_one_makes_it()
    {
        await using var service = await EmptyAsync();
        var path = await OfferedAsync(service);
        using var first = new Visit(service);
        using var second = new Visit(service);
        var forms = new[] { (await first.Browser.OpenAsync(path)).QuerySelector("form.card")!, (await second.Browser.OpenAsync(path)).QuerySelector("form.card")! };
        var answers = await Task.WhenAll(
            first.Browser.SubmitAsync(forms[0], Filled("first@example.org")), second.Browser.SubmitAsync(forms[1], Filled("second@example.org")));
        Assert.Equal([HttpStatusCode.Redirect, HttpStatusCode.Gone], answers.Select(answer => answer.StatusCode).Order());
        await using var store = service.Store();
        Assert.Single(await store.Accounts.ToListAsync());
        Assert.Single(await store.Cooperatives.Where(row => row.Name == "Hollow Oak").ToListAsync());
        Array.ForEach(answers, answer => answer.Dispose());
    }

    /// <summary>A store from before there were accounts keeps its cooperative and its people.</summary>
    [Fact]
    public async Task A_cooperative_of_before_gets_its_coordinator()
    {
        await using var service = await EmptyAsync();
        var path = await OfferedAsync(service);
        using var visit = new Visit(service);
        string name;
        await using (var store = service.Store())
            name = (await store.Cooperatives.SingleAsync()).Name;
        Assert.Equal(name, (await visit.Browser.OpenAsync(path)).QuerySelector("#cooperative")!.GetAttribute("value"));
        using (await visit.SubmitAsync(path, "form.card", [.. Filled("maren@example.org")[1..]]))
        {
        }

        await using (var store = service.Store())
            Assert.Equal(name, (await store.Cooperatives.SingleAsync()).Name);
    }

    [Fact]
    public async Task The_terminal_lets_a_coordinator_in_without_mail_and_a_second_time_sets_a_new_password()
    {
        await using var service = await Doors.OpenAsync();
        var path = await PrintedAsync(output => AccountVerbs.AddCoordinatorAsync(service.Services, Options("--cooperative", "Hollow Oak", "--name", "Maren", "--email", "maren@oak.example", "--language", "es"), output));
        using var visit = new Visit(service);
        using (var joined = await visit.SubmitAsync(path, "form.card", ("password", Doors.Password)))
            Assert.Equal("/sign-in/advice?back=%2F", joined.Headers.Location!.OriginalString);
        Assert.True(await visit.IsInAsync());
        Assert.Equal("es", (await visit.Browser.OpenAsync("/")).DocumentElement.GetAttribute("lang"));

        var again = await PrintedAsync(output => AccountVerbs.AddCoordinatorAsync(service.Services, Options("--cooperative", "Hollow Oak", "--name", "Maren", "--email", "maren@oak.example"), output));
        using (var set = await visit.SubmitAsync(again, "form.card", ("password", "harvest gravel pony umbrella")))
            Assert.Equal("/sign-in?done=reset", set.Headers.Location!.OriginalString);
        await using var store = service.Store();
        Assert.Single(await store.Cooperatives.Where(row => row.Name == "Hollow Oak").ToListAsync());
        Assert.Contains(await store.Audit.ToListAsync(), row => row is { Action: "coordinator.appointed", Via: "terminal" });
    }

    [Fact]
    public async Task The_terminal_lets_an_operator_in_who_is_a_member_nowhere()
    {
        await using var service = await Doors.OpenAsync();
        var path = await PrintedAsync(output => AccountVerbs.AddOperatorAsync(service.Services, Options("--email", "ops@example.org"), output));
        using var visit = new Visit(service);
        using (await visit.SubmitAsync(path, "form.card", ("password", Doors.Password)))
        {
        }

        using (var done = await visit.SignInAsync("ops@example.org", Doors.Password))
            Assert.Equal("/sign-in/advice?back=%2Faccount%2Fsecurity", done.Headers.Location!.OriginalString);
        using (var security = await visit.Browser.GetAsync("/account/security"))
            Assert.Equal(HttpStatusCode.OK, security.StatusCode);
        Assert.False(await visit.IsInAsync());
    }

    [Theory]
    [InlineData("--email", "ops example.org")]
    [InlineData("--email", "a@example.org,b@example.org")]
    public async Task The_terminal_refuses_what_is_no_address(params string[] args)
    {
        await using var service = await Doors.OpenAsync();
        await Assert.ThrowsAsync<VerbException>(() => AccountVerbs.AddOperatorAsync(service.Services, Options(args), TextWriter.Null));
    }

    private static VerbOptions Options(params string[] args) => VerbOptions.Parse(args, "cooperative", "name", "email", "language");

    private static (string, string)[] Filled(string email) =>
        [("cooperative", "Hollow Oak"), ("name", "Maren Oak"), ("email", email), ("password", Doors.Password)];

    private static async Task<TestService> EmptyAsync()
    {
        var service = await Doors.OpenAsync();
        await using var store = service.Store();
        await store.People.ExecuteUpdateAsync(set => set.SetProperty(row => row.AccountId, (long?)null));
        await store.Accounts.ExecuteDeleteAsync();
        return service;
    }

    private static Task<string> OfferedAsync(TestService service) => PrintedAsync(output => ServeVerb.OfferSetupAsync(service.Services, output));

    private static async Task<string> PrintedAsync(Func<TextWriter, Task> print)
    {
        using var output = new StringWriter();
        await print(output);
        const string start = "http://localhost:5080";
        return output.ToString().Split((char[])['\n', ' '], StringSplitOptions.RemoveEmptyEntries).Single(word => word.StartsWith(start, StringComparison.Ordinal))[start.Length..];
    }
}
