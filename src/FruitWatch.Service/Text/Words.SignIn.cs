using FruitWatch.Service.SignIn;
using NodaTime;

namespace FruitWatch.Service.Text;

// Signing in, one's own account, and the mails about it.
internal abstract partial class Words
{
    public abstract string SignInTitle { get; }

    public abstract string SignOutButton { get; }

    public abstract string AccountLink { get; }

    public abstract string SignInEmail { get; }

    public abstract string SignInEmailWrong { get; }

    public abstract string SignInPassword { get; }

    public abstract string SignInButton { get; }

    public abstract string SignInForgotten { get; }

    public abstract string SignInPasskey { get; }

    public abstract string SignInPasskeySaid { get; }

    public abstract string SignInNoAccount { get; }

    public abstract string SignInWrong { get; }

    /// <summary>So many failures that nothing is looked at for a while.</summary>
    public abstract string SignInWait(int seconds);

    /// <summary>Too many forms from one place.</summary>
    public abstract string TooOftenTitle { get; }

    public abstract string TooOftenAdvice(int seconds);

    /// <summary>What was done on the page before: <c>out</c>, <c>everywhere</c>, <c>reset</c>; null for any other word.</summary>
    public abstract string? SignInDone(string done);

    public abstract string SecondTitle { get; }

    public abstract string SecondCode { get; }

    public abstract string SecondHint { get; }

    public abstract string SecondButton { get; }

    public abstract string SecondNoPhone { get; }

    public abstract string SecondRecovery { get; }

    public abstract string SecondRecoveryHint { get; }

    public abstract string SecondWrong(bool recovery);

    public abstract string SecondGone { get; }

    public abstract string AdviceTitle { get; }

    public abstract string AdviceSaid { get; }

    public abstract string AdviceAdd { get; }

    public abstract string AdviceLater { get; }

    public abstract string MembershipTitle { get; }

    public abstract string MembershipLead { get; }

    public abstract string MembershipNone { get; }

    public abstract string MembershipNow { get; }

    public abstract string MembershipSwitch { get; }

    public abstract string ForgottenTitle { get; }

    public abstract string ForgottenLead { get; }

    public abstract string ForgottenButton { get; }

    public abstract string ForgottenAsked(string email);

    public abstract string ResetTitle { get; }

    public abstract string ResetLead { get; }

    public abstract string ResetButton { get; }

    public abstract string LinkGoneTitle { get; }

    public abstract string LinkGone { get; }

    public abstract string PasswordNew { get; }

    public abstract string PasswordHint { get; }

    public abstract string PasswordWrong(PasswordFault fault);

    public abstract string InvitationTitle(string cooperative);

    public abstract string InvitationSaid(string name, string role);

    public abstract string InvitationMake { get; }

    public abstract string InvitationJoin { get; }

    public abstract string InvitationJoinAs(string own, string invited);

    public abstract string InvitationHasAccount(string email);

    public abstract string InvitationOther { get; }

    public abstract string InvitationAlready { get; }

    public abstract string InvitationGoneTitle { get; }

    public abstract string InvitationGone { get; }

    public abstract string SetupTitle { get; }

    public abstract string SetupLead { get; }

    public abstract string SetupCooperative { get; }

    public abstract string SetupCooperativeHint { get; }

    public abstract string SetupName { get; }

    public abstract string SetupNameWrong { get; }

    public abstract string SetupButton { get; }

    public abstract string SetupGone { get; }

    public abstract string SecurityTitle { get; }

    public abstract string SecurityLead(string email);

    public abstract string SecurityDemo { get; }

    public abstract string SecurityNoMember { get; }

    public abstract string SecuritySecond { get; }

    public abstract string SecurityCodesOn(int recoveryCodes);

    public abstract string SecurityCodesOff { get; }

    public abstract string SecurityAdvice { get; }

    public abstract string SecurityCodesAdd { get; }

    public abstract string SecurityCodesChange { get; }

    public abstract string SecurityPasskeys(int count);

    public abstract string SecurityPasskeysChange { get; }

    public abstract string SecurityPassword { get; }

    public abstract string SecurityPasswordChange { get; }

    public abstract string SecurityPresent { get; }

    public abstract string SecurityPresentOrCode { get; }

    public abstract string SecurityPresentWrong { get; }

    public abstract string SecurityAddress { get; }

    public abstract string SecurityUnconfirmed { get; }

    public abstract string SecurityConfirmAgain { get; }

    public abstract string SecurityAddressNew { get; }

    public abstract string SecurityAddressHint { get; }

    public abstract string SecurityAddressChange { get; }

    public abstract string SecuritySessions { get; }

    public abstract string SecuritySessionsSaid { get; }

    public abstract string SecurityEverywhere { get; }

    public abstract string SecurityFailed { get; }

    /// <summary>What was done: a word of the pages' own; null for any other.</summary>
    public abstract string? SecurityDone(string done);

    public abstract string CodesTitle { get; }

    public abstract string CodesLead { get; }

    public abstract string CodesBeginSaid { get; }

    public abstract string CodesBegin { get; }

    public abstract string CodesScan { get; }

    public abstract string CodesPicture { get; }

    public abstract string CodesType { get; }

    public abstract string CodesEnter { get; }

    public abstract string CodesConfirm { get; }

    public abstract string CodesRecoveryTitle { get; }

    public abstract string CodesRecoverySaid { get; }

    public abstract string CodesKept { get; }

    public abstract string CodesRecoveryNew { get; }

    public abstract string CodesOtherPhone { get; }

    public abstract string CodesOff { get; }

    public abstract string PasskeysTitle { get; }

    public abstract string PasskeysLead { get; }

    public abstract string PasskeysNeedScript { get; }

    public abstract string PasskeysFull(int most);

    public abstract string PasskeyMade(LocalDate day);

    public abstract string PasskeyChange { get; }

    public abstract string PasskeyName { get; }

    public abstract string PasskeyNameHint { get; }

    public abstract string PasskeyNameless(int number);

    public abstract string PasskeyRename { get; }

    public abstract string PasskeyRemove { get; }

    public abstract string PasskeyAdd { get; }

    public abstract string PasskeyFailed { get; }

    public abstract string AddressTitle { get; }

    public abstract string AddressConfirmSaid(string email);

    public abstract string AddressChangeSaid(string email);

    public abstract string AddressConfirm { get; }

    public abstract string AddressDone(string email);

    public abstract string AccountMailSubject(AccountNews news);

    public abstract string AccountMailGreeting(string? name);

    /// <summary>What happened.</summary>
    /// <param name="news">What.</param>
    /// <param name="email">Address of the account.</param>
    public abstract string AccountMailSaid(AccountNews news, string email);

    public abstract string AccountMailButton(AccountNews news);

    /// <summary>What to do where it was not them.</summary>
    public abstract string AccountMailIfNotYou(AccountNews news);

    public abstract string AccountMailWhyYou(string email);

    /// <summary>A wait in whole minutes, or in seconds where it is short.</summary>
    protected string WaitOf(int seconds, string second, string secondsWord, string minute, string minutes)
    {
        if (seconds < 60)
            return seconds == 1 ? $"1 {second}" : $"{Number(seconds)} {secondsWord}";
        var whole = (seconds + 59) / 60;
        return whole == 1 ? $"1 {minute}" : $"{Number(whole)} {minutes}";
    }
}
