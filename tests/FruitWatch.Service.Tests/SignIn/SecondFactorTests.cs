using System.Net;
using System.Text;
using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;
using Microsoft.EntityFrameworkCore;
using NodaTime;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Codes of an app, and recovery codes (ASVS 5.0 6.5.x).</summary>
public sealed class SecondFactorTests
{
    /// <summary>RFC 6238 appendix B: the SHA-1 values.</summary>
    [Theory]
    [InlineData(59, "94287082")]
    [InlineData(1111111109, "07081804")]
    [InlineData(1111111111, "14050471")]
    [InlineData(1234567890, "89005924")]
    [InlineData(2000000000, "69279037")]
    [InlineData(20000000000, "65353130")]
    public void Codes_are_those_of_the_standard(long seconds, string code) =>
        Assert.Equal(code, OneTimeCodes.Code(Encoding.ASCII.GetBytes("12345678901234567890"), seconds / 30, 8));

    /// <summary>RFC 4648 section 10.</summary>
    [Theory]
    [InlineData("MY", "f")]
    [InlineData("MZXW6YTBOI", "foobar")]
    [InlineData("mzxw 6ytb", "fooba")]
    public void Secrets_are_read_from_their_letters(string letters, string text) => Assert.Equal(text, Encoding.ASCII.GetString(OneTimeCodes.Read(letters)));

    [Fact]
    public async Task It_is_set_up_asked_for_taken_once_and_turned_off()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var here = new Visit(service);
        using var there = new Visit(service);
        await here.SignedInAsync();
        await there.SignedInAsync();
        var (secret, recovery) = await SetUpAsync(service, here);
        Assert.True(await here.IsInAsync());
        Assert.False(await there.IsInAsync()); // 7.4.3
        await service.MailAsync(Doors.Email, "A second step was turned on"); // 6.3.7

        // 13.3.1, 6.5.2: the store has neither the secret nor a recovery code.
        await using (var store = service.Store())
        {
            var kept = string.Join('\n', await store.UserTokens.Select(row => row.Value).ToListAsync());
            Assert.DoesNotContain(secret, kept, StringComparison.Ordinal);
            Assert.All(recovery, code => Assert.DoesNotContain(code, kept, StringComparison.Ordinal));
        }

        service.Clock().Advance(Duration.FromSeconds(30));
        var code = service.Code(secret);
        using (var password = await there.SignInAsync(Doors.Email, Doors.Password, "/sign-in?back=%2Fnotices"))
            Assert.Equal("/sign-in/second-factor?back=%2Fnotices", password.Headers.Location!.OriginalString);
        Assert.False(await there.IsInAsync());
        var input = (await there.Browser.OpenAsync("/sign-in/second-factor")).QuerySelector("#code")!;
        Assert.Equal("one-time-code", input.GetAttribute("autocomplete"));
        using (var wrong = await there.SubmitAsync("/sign-in/second-factor", "form.card", ("code", code == "000000" ? "000001" : "000000")))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        using (var right = await there.SubmitAsync("/sign-in/second-factor?back=%2Fnotices", "form.card", ("code", code)))
            Assert.Equal("/notices", right.Headers.Location!.OriginalString);
        Assert.True(await there.IsInAsync());

        // 6.5.1, RFC 6238 section 5.2: not twice, though the app still shows it.
        using var third = new Visit(service);
        using (await third.SignInAsync(Doors.Email, Doors.Password))
        using (var twice = await third.SubmitAsync("/sign-in/second-factor", "form.card", ("code", code)))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, twice.StatusCode);

        // A recovery code, typed as people type, once.
        using (var back = await third.SubmitAsync("/sign-in/second-factor", "form[action*=recovery]", ("recovery", recovery[2].ToLowerInvariant().Replace('-', ' '))))
            Assert.Equal("/", back.Headers.Location!.OriginalString);
        await service.MailAsync(Doors.Email, "A recovery code was used");
        using var fourth = new Visit(service);
        using (await fourth.SignInAsync(Doors.Email, Doors.Password))
        using (var twice = await fourth.SubmitAsync("/sign-in/second-factor", "form[action*=recovery]", ("recovery", recovery[2])))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, twice.StatusCode);
        Assert.Contains($"{AccountManager.CodesAtOnce - 1} recovery codes are left", (await third.Browser.OpenAsync("/account/security")).Body!.Read(), StringComparison.Ordinal);

        // 7.5.1: turned off with the password or a code only.
        var form = (await third.Browser.OpenAsync("/account/security/second-factor")).QuerySelector("button[formaction*=off]")!;
        form.Closest("form")!.SetAttribute("action", form.GetAttribute("formaction"));
        using (var wrong = await third.Browser.SubmitAsync(form, ("present", "not the password")))
            Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
        service.Clock().Advance(Duration.FromSeconds(60));
        using (var off = await third.Browser.SubmitAsync(form, ("present", service.Code(secret))))
            Assert.Equal("/account/security?done=codes-off", off.Headers.Location!.OriginalString);
        await fourth.SignedInAsync();
        Assert.Superset(new HashSet<string> { "second-factor.on", "second-factor.off", "sign-in.refused" }, (await service.AuditAsync()).ToHashSet());
    }

    /// <summary>A picture and letters; both the same secret; no style or script, which the content policy would refuse.</summary>
    [Fact]
    public async Task The_secret_is_shown_as_a_picture_and_in_letters_and_kept_only_when_a_code_has_shown_it()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var visit = new Visit(service);
        await visit.SignedInAsync();
        using var begun = await visit.SubmitAsync("/account/security/second-factor", "form.card", ("present", Doors.Password));
        var page = await HtmlPage.ReadAsync(begun);
        Assert.Equal("img", page.QuerySelector("svg.qr")!.GetAttribute("role"));
        Assert.NotEmpty(page.QuerySelector("svg.qr")!.GetAttribute("aria-label")!);
        Assert.Empty(page.QuerySelectorAll("[style], script, style"));
        Assert.Matches("^([A-Z2-7]{4} ){7}[A-Z2-7]{4}$", page.QuerySelector("code.secret")!.TextContent);
        Assert.True(begun.Headers.CacheControl!.NoStore);
        await using var store = service.Store();
        Assert.Empty(await store.UserTokens.ToListAsync());
    }

    [Fact]
    public async Task The_second_step_opens_for_nobody_who_has_not_shown_a_password()
    {
        await using var service = await Doors.OpenAsync();
        using var visit = new Visit(service);
        var page = await visit.Browser.OpenAsync("/sign-in/second-factor");
        Assert.Null(page.QuerySelector("#code"));
        Assert.Contains("Begin again", page.Body!.Read(), StringComparison.Ordinal);
    }

    /// <summary>A million codes are few: guessing them is slowed as passwords are (6.5.5, 6.3.1).</summary>
    [Fact]
    public async Task Guessing_codes_has_to_wait_too()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var holder = new Visit(service);
        await holder.SignedInAsync();
        var (secret, _) = await SetUpAsync(service, holder);
        service.Clock().Advance(Duration.FromSeconds(30));
        using var thief = new Visit(service);
        using (await thief.SignInAsync(Doors.Email, Doors.Password))
        {
            for (var i = 0; i < Pace.Free; i++)
            {
                using var wrong = await thief.SubmitAsync("/sign-in/second-factor", "form.card", ("code", "123456"));
                Assert.Equal(HttpStatusCode.UnprocessableEntity, wrong.StatusCode);
            }

            using var waiting = await thief.SubmitAsync("/sign-in/second-factor", "form.card", ("code", service.Code(secret)));
            Assert.Equal(HttpStatusCode.TooManyRequests, waiting.StatusCode);
        }

        using (await holder.SignInAsync(Doors.Email, Doors.Password))
        using (var known = await holder.SubmitAsync("/sign-in/second-factor", "form.card", ("code", service.Code(secret))))
            Assert.Equal("/", known.Headers.Location!.OriginalString);
    }

    private static async Task<(string Secret, IReadOnlyList<string> Recovery)> SetUpAsync(TestService service, Visit visit)
    {
        using var begun = await visit.SubmitAsync("/account/security/second-factor", "form.card", ("present", Doors.Password));
        var page = await HtmlPage.ReadAsync(begun);
        var secret = page.QuerySelector("code.secret")!.TextContent.Replace(" ", "", StringComparison.Ordinal);
        using var confirmed = await visit.Browser.SubmitAsync(page.QuerySelector("form[action*=confirm]")!, ("code", service.Code(secret)));
        var codes = (await HtmlPage.ReadAsync(confirmed)).QuerySelectorAll("ul.codes code").Select(code => code.TextContent).ToList();
        Assert.Equal(AccountManager.CodesAtOnce, codes.Count);
        Assert.All(codes, code => Assert.Matches("^([A-HJ-NP-Z2-9]{6}-){3}[A-HJ-NP-Z2-9]{6}$", code));
        return (secret, codes);
    }
}
