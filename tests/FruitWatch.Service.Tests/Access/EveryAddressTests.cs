using System.Net;
using System.Text;
using FruitWatch.Service.Access;
using FruitWatch.Service.Tests.Pages;
using FruitWatch.Store;
using FruitWatch.Store.Entities;
using Microsoft.Extensions.DependencyInjection;

namespace FruitWatch.Service.Tests.Access;

/// <summary>
/// Every address of the service as its route table has it, by everybody: ASVS 5.0 8.1.1 (rules are written down), 8.2.1 (functions),
/// 8.2.2 and 8.4.1 (data of others), 8.3.1 (on the server). A new page, form or operation without a rule fails here, and so does one
/// whose keys the tests do not know.
/// </summary>
public sealed class EveryAddressTests(OneService running) : IClassFixture<OneService>
{
    /// <summary>All that is open to those who are not known. Whoever adds to it has to say so here.</summary>
    private static readonly string[] s_forEverybody =
    [
        "GET /api", "GET /health/live", "GET /openapi/{documentName}.json", "POST /language", "GET /problem/{status:int:range(400,599)}", "POST /problem/{status:int:range(400,599)}?handler=",
        "GET /with/{secret?}", "POST /with/{secret?}?handler=", "POST /with/{secret?}?handler=Leave",
        "GET /do/{secret}", "POST /do/{secret}?handler=", "POST /do/{secret}?handler=Undo",
        "GET /stop/{secret}", "POST /stop/{secret}?handler=", "POST /stop/{secret}?handler=Start", "POST /stop/{secret}?handler=Choose",
        "GET /cooperative/deleted",
        "GET /sign-in", "POST /sign-in?handler=", "POST /sign-in?handler=Options", "POST /sign-in?handler=Passkey", "POST /sign-out",
        "GET /sign-in/forgotten", "POST /sign-in/forgotten?handler=", "GET /sign-in/reset", "POST /sign-in/reset?handler=",
        "GET /sign-in/second-factor", "POST /sign-in/second-factor?handler=", "POST /sign-in/second-factor?handler=Recovery",
        "GET /account/address", "POST /account/address?handler=", "GET /invitation/{secret}", "POST /invitation/{secret}?handler=",
        "GET /setup/{code}", "POST /setup/{code}?handler=",
        "GET /calendar/{secret}",
        // A secret of its own is the authority.
        "POST /mail/bounces",
    ];

    /// <summary>Named by keys that are nobody's: what ships with the program, and pages of refusals.</summary>
    private static readonly string[] s_nobodys = ["/api/v1/feed-presets/{id}", "/problem/{status:int:range(400,599)}"];

    /// <summary>A viewer who runs the service.</summary>
    private const string Operating = "operator";

    private static int s_calls;

    private IReadOnlyDictionary<string, string>? keys;

    private TestService Service => running.Service;

    [Fact]
    public void Every_address_has_a_rule_and_every_form_its_own()
    {
        var without = Address.All(Service).Where(address => !address.ForEverybody && address.Rights.Count == 0).Select(address => address.ToString());
        Assert.Empty(without);
        var forms = Service.Services.GetRequiredService<Microsoft.AspNetCore.Routing.EndpointDataSource>().Endpoints
            .Where(endpoint => endpoint.Metadata.GetMetadata<Microsoft.AspNetCore.Authorization.IAllowAnonymous>() is null)
            .Select(endpoint => endpoint.Metadata.GetMetadata<Microsoft.AspNetCore.Mvc.RazorPages.PageActionDescriptor>()).OfType<Microsoft.AspNetCore.Mvc.RazorPages.PageActionDescriptor>()
            .SelectMany(page => Address.Forms(page).Where(form => form.Asks is null).Select(form => $"{page.ViewEnginePath} {form.Name}"));
        Assert.Empty(forms);
    }

    [Fact]
    public void What_is_for_everybody_is_this_and_no_more() => Assert.Equal(
        s_forEverybody.Order(StringComparer.Ordinal),
        Address.All(Service).Where(address => address.ForEverybody).Select(address => address.ToString()).Order(StringComparer.Ordinal));

    [Fact]
    public async Task Nobody_is_let_in_without_being_known()
    {
        var wrong = new List<string>();
        using var nobody = Service.Client(null);
        foreach (var address in Address.All(Service).Where(address => !address.ForEverybody))
        {
            using var answer = await nobody.SendAsync(await RequestAsync(address, nobody, nothing: false));
            var good = address.OfPrograms
                ? answer.StatusCode == HttpStatusCode.Unauthorized && answer.Headers.WwwAuthenticate.ToString() == "Bearer"
                : answer.StatusCode == HttpStatusCode.Redirect && answer.Headers.Location!.OriginalString.Contains("/sign-in", StringComparison.Ordinal);
            if (!good)
                wrong.Add($"{address}: {(int)answer.StatusCode}");
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task Keys_of_another_cooperative_are_not_found_whatever_role_asks()
    {
        var wrong = new List<string>();
        foreach (var (name, stranger) in await StrangersAsync())
        {
            using var client = Service.Client(stranger);
            var rights = RightsOf(name);
            foreach (var address in Address.All(Service).Where(address => address.NamesAKey && !s_nobodys.Contains(address.Route)))
            {
                if (address.ForEverybody)
                    continue;
                using var answer = await client.SendAsync(await RequestAsync(address, client, nothing: false));
                var expected = address.Rights.All(rights.Contains) ? HttpStatusCode.NotFound : HttpStatusCode.Forbidden;
                if (answer.StatusCode != expected)
                    wrong.Add($"{name}: {address}: {(int)answer.StatusCode} where {(int)expected} is due");
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task Lists_and_pages_of_one_cooperative_hold_nothing_of_another()
    {
        string[] theirs = ["Alder Lane", "Mill Field", "Straw ring", "hazels", "Hill Station", "Rowan", "rowan@", "Maren Oakhurst", "alder-lane"];
        var wrong = new List<string>();
        foreach (var (name, stranger) in await StrangersAsync())
        {
            using var client = Service.Client(stranger);
            foreach (var address in Address.All(Service).Where(address => address.IsRead && !address.NamesAKey && !address.ForEverybody))
            {
                using var answer = await client.SendAsync(await RequestAsync(address, client, nothing: false));
                var text = await answer.Content.ReadAsStringAsync();
                wrong.AddRange(theirs.Where(word => text.Contains(word, StringComparison.OrdinalIgnoreCase)).Select(word => $"{name}: {address} tells of {word}"));
                if ((int)answer.StatusCode >= 500)
                    wrong.Add($"{name}: {address}: {(int)answer.StatusCode}");
            }
        }

        Assert.Empty(wrong);
    }

    [Fact]
    public async Task Each_role_is_let_to_what_it_has_a_right_to_and_to_nothing_else()
    {
        var wrong = new List<string>();
        foreach (var (name, member) in await OwnAsync())
        {
            using var client = Service.Client(member);
            var rights = RightsOf(name);
            // What is refused first: signing out everywhere is among what is allowed.
            foreach (var address in Address.All(Service).Where(address => !address.ForEverybody).OrderBy(address => address.Rights.All(rights.Contains)))
            {
                // Keys of nothing: what is let through changes nothing.
                using var answer = await client.SendAsync(await RequestAsync(address, client, nothing: true));
                var allowed = address.Rights.All(rights.Contains);
                if (allowed == (answer.StatusCode is HttpStatusCode.Forbidden or HttpStatusCode.Unauthorized) || (int)answer.StatusCode >= 500)
                    wrong.Add($"{name}: {address}: {(int)answer.StatusCode} where it is {(allowed ? "allowed" : "not allowed")}");
            }
        }

        Assert.Empty(wrong);
    }

    private async Task<HttpRequestMessage> RequestAsync(Address address, HttpClient client, bool nothing)
    {
        var request = new HttpRequestMessage(new HttpMethod(address.Method), address.Fill(Keys(), nothing));
        if (address.IsRead)
            return request;
        if (address.OfPrograms)
        {
            request.Content = new StringContent("{}", Encoding.UTF8, "application/json");
            request.Headers.TryAddWithoutValidation("If-Match", "\"987654\"");
            return request;
        }

        // The form's own token, so that what refuses is the right that is missing and not the form.
        using var seen = await client.GetAsync("/problem/404");
        var page = await HtmlPage.ReadAsync(seen);
        request.Content = new FormUrlEncodedContent([new("form-token", page.QuerySelector("input[name=form-token]")?.GetAttribute("value") ?? "")]);
        if (seen.Headers.TryGetValues("Set-Cookie", out var set))
            request.Headers.TryAddWithoutValidation("Cookie", string.Join("; ", [.. client.DefaultRequestHeaders.TryGetValues("Cookie", out var own) ? own : [], .. set.Select(cookie => cookie.Split(';')[0])]));
        return request;
    }

    private IReadOnlyDictionary<string, string> Keys() => keys ??= KeysKept.Of(Service);

    // Whoever has a session may change how they sign in.
    private static HashSet<Right> RightsOf(string name) => name == Operating
        ? [.. Rights.OfRole(Role.Viewer), Right.OwnSignIn, Right.Operate]
        : [.. Rights.OfRole(Enum.Parse<Role>(name)), Right.OwnSignIn];

    private static string NewName() => $"Someone {Interlocked.Increment(ref s_calls)}";

    private Task<IReadOnlyList<(string Name, Member Member)>> OwnAsync() => JoinAsync(Service.Invented.Cooperative, [Service.Invented.AlderLane]);

    private async Task<IReadOnlyList<(string Name, Member Member)>> StrangersAsync()
    {
        await using var store = Service.Services.GetRequiredService<StoreFactory>().CreateDbContext();
        var elsewhere = new Store.Entities.Cooperative { Name = "Far Bank" };
        store.Add(elsewhere);
        await store.SaveChangesAsync();
        return await JoinAsync(elsewhere.Id, []);
    }

    private async Task<IReadOnlyList<(string Name, Member Member)>> JoinAsync(long cooperative, long[] sites)
    {
        var members = new List<(string, Member)>();
        foreach (var role in Enum.GetValues<Role>())
            members.Add((role.ToString(), await Member.JoinAsync(Service.Services, cooperative, role, NewName(), sites)));
        members.Add((Operating, await Member.JoinAsync(Service.Services, cooperative, Role.Viewer, NewName(), sites, operating: true)));
        return members;
    }
}
