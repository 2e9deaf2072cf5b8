using FruitWatch.Service.SignIn;
using FruitWatch.Service.Tests.Pages;

namespace FruitWatch.Service.Tests.SignIn;

/// <summary>Passwords (ASVS 5.0 6.2.1 to 6.2.12).</summary>
public sealed class PasswordRulesTests
{
    private static readonly string?[] s_about = ["Ines Alder", "ines.alder@example.org", "Alder Lane Growers"];

    [Theory]
    [InlineData("elevenchars", nameof(PasswordFault.Short))] // 6.2.1
    [InlineData("", nameof(PasswordFault.Short))]
    [InlineData("password1234", nameof(PasswordFault.Common))] // 6.2.4
    [InlineData("iloveyou1234", nameof(PasswordFault.Common))]
    [InlineData("letmeinplease!", nameof(PasswordFault.Common))]
    [InlineData("Ines Alder 2026", nameof(PasswordFault.Named))] // 6.1.2, 6.2.11
    [InlineData("INES.ALDER@example.org", nameof(PasswordFault.Named))]
    [InlineData("FruitWatch2026!", nameof(PasswordFault.Named))]
    [InlineData("alderlanegrowers", nameof(PasswordFault.Named))]
    [InlineData("aaaaaaaaaaaaaaaaaaaa", nameof(PasswordFault.Pattern))]
    [InlineData("mosmosmosmosmosmos", nameof(PasswordFault.Pattern))]
    [InlineData("abcdefghijklmnop", nameof(PasswordFault.Pattern))]
    public void What_is_guessed_soon_is_refused_with_the_reason(string password, string fault) =>
        Assert.Equal(fault, PasswordRules.FaultOf(password, s_about)?.ToString());

    [Theory]
    [InlineData("kettle moss lantern forty")] // 6.2.5: no capitals, numbers or signs are asked for
    [InlineData("setas entre álamos y lluvia")]
    [InlineData("🍄 moss 🍄 kettle 🌧 pony")]
    [InlineData("correcthorsebatterystaple")]
    [InlineData("qZ7#vL2!pX9w")]
    public void What_takes_long_to_guess_is_taken_whatever_it_is_made_of(string password) => Assert.Null(PasswordRules.FaultOf(password, s_about));

    /// <summary>6.2.9: at least 64 characters are taken, and not cut.</summary>
    [Fact]
    public void Long_ones_are_taken_up_to_a_limit_that_is_told()
    {
        const string verse = "kettle moss lantern forty pony umbrella gravel harvest window candle thunder ribbon island pepper";
        Assert.Null(PasswordRules.FaultOf(verse[..64], s_about));
        Assert.Null(PasswordRules.FaultOf(verse.PadRight(120, '~') + "endofit!", s_about));
        Assert.Equal(PasswordFault.Long, PasswordRules.FaultOf(verse.PadRight(129, '~'), s_about));
    }

    /// <summary>6.2.8: taken exactly as typed.</summary>
    [Fact]
    public async Task It_is_neither_trimmed_nor_changed()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var visit = new Visit(service);
        foreach (var near in new[] { Doors.Password + " ", " " + Doors.Password, Doors.Password.ToUpperInvariant(), Doors.Password[..^1] })
        {
            using var answer = await visit.SignInAsync(Doors.Email, near);
            Assert.Null(answer.Headers.Location);
        }
    }

    /// <summary>6.2.2, 6.2.3, 6.2.7: changed with the present one, which a manager may fill in; every other session ends (7.4.3) and the holder is told (6.3.7).</summary>
    [Fact]
    public async Task It_is_changed_with_the_present_one_and_its_holder_is_told()
    {
        await using var service = await Doors.OpenAsync();
        await service.MemberAsync();
        using var here = new Visit(service);
        using var there = new Visit(service);
        await here.SignedInAsync();
        await there.SignedInAsync();
        var form = (await here.Browser.OpenAsync("/account/security")).QuerySelector("form[action*=password]")!;
        Assert.Equal("current-password", form.QuerySelector("[name=present]")!.GetAttribute("autocomplete"));
        Assert.Equal("new-password", form.QuerySelector("[name=password]")!.GetAttribute("autocomplete"));

        using (var wrong = await here.Browser.SubmitAsync(form, ("present", "not the present one"), ("password", "harvest gravel pony umbrella")))
            Assert.NotNull((await HtmlPage.ReadAsync(wrong)).QuerySelector("#password-present-error"));
        using (var weak = await here.Browser.SubmitAsync(form, ("present", Doors.Password), ("password", "password1234")))
            Assert.Contains("tried first", (await HtmlPage.ReadAsync(weak)).QuerySelector("#password-error")!.TextContent, StringComparison.Ordinal);
        Assert.True(await there.IsInAsync());
        using (var done = await here.Browser.SubmitAsync(form, ("present", Doors.Password), ("password", "harvest gravel pony umbrella")))
            Assert.Equal("/account/security?done=password", done.Headers.Location!.OriginalString);

        Assert.True(await here.IsInAsync());
        Assert.False(await there.IsInAsync());
        var (mail, _) = await service.MailAsync(Doors.Email, "Your password was changed");
        Assert.Null(mail.CooperativeId);
        Assert.DoesNotContain("nsubscribe", mail.TextBody + mail.HtmlBody + mail.Headers, StringComparison.Ordinal);
        using var again = new Visit(service);
        using (var old = await again.SignInAsync(Doors.Email, Doors.Password))
            Assert.Null(old.Headers.Location);
        await again.SignedInAsync(password: "harvest gravel pony umbrella");
        Assert.Contains("password.changed", await service.AuditAsync());
    }
}
