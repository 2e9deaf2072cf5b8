using FruitWatch.Service.SignIn;
using NodaTime;

namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string SignInTitle => "Sign in";

    public override string SignOutButton => "Sign out";

    public override string AccountLink => "Account";

    public override string SignInEmail => "E-mail address";

    public override string SignInEmailWrong => "Write one e-mail address, such as name@example.org.";

    public override string SignInPassword => "Password";

    public override string SignInButton => "Sign in";

    public override string SignInForgotten => "Forgotten your password?";

    public override string SignInPasskey => "Sign in with a passkey";

    public override string SignInPasskeySaid => "With a passkey you need neither address nor password.";

    public override string SignInNoAccount => "No account yet? Your cooperative's coordinator invites you by mail. If you work from a personal link, open that link.";

    public override string SignInWrong => "Address and password do not go together. Look at both again.";

    public override string SignInWait(int seconds) =>
        $"There were too many failed attempts, so none is looked at now. Try again in {Wait(seconds)}. Setting a new password by mail works at once.";

    public override string TooOftenTitle => "Too many attempts";

    public override string TooOftenAdvice(int seconds) => $"Too many forms came from your connection within a minute. Nothing was changed. Try again in {Wait(seconds)}.";

    public override string? SignInDone(string done) => done switch
    {
        "out" => "You have signed out.",
        "everywhere" => "You have signed out on every device.",
        "reset" => "Your new password is set. Sign in with it.",
        _ => null,
    };

    public override string SecondTitle => "Second step";

    public override string SecondCode => "Code of your app";

    public override string SecondHint => "Six digits. Each code is taken once; wait for the next one where you have just used it.";

    public override string SecondButton => "Go on";

    public override string SecondNoPhone => "No phone at hand? Use a recovery code";

    public override string SecondRecovery => "Recovery code";

    public override string SecondRecoveryHint => "One of those that you put away when you set up the app. It is used up then.";

    public override string SecondWrong(bool recovery) => recovery
        ? "That is none of your recovery codes, or it was used before."
        : "That code is not right, or it was used before. Take the one that the app shows now.";

    public override string SecondGone => "This step has run out, or was begun in another window. Begin again with your password.";

    public override string AdviceTitle => "Please add a second step";

    public override string AdviceSaid =>
        "You may change everything here, and so may anybody who gets hold of your password. A code of an app on your phone, or a passkey, keeps them out. It takes two minutes.";

    public override string AdviceAdd => "Add it now";

    public override string AdviceLater => "Not now";

    public override string MembershipTitle => "Your cooperatives";

    public override string MembershipLead => "You are a member of several. Choose the one that you want to see.";

    public override string MembershipNone => "You are a member of no cooperative.";

    public override string MembershipNow => "chosen now";

    public override string MembershipSwitch => "Other cooperative";

    public override string ForgottenTitle => "A new password";

    public override string ForgottenLead => "We send a link to your address. With it you set a new password, even while sign-in has to wait.";

    public override string ForgottenButton => "Send a link";

    public override string ForgottenAsked(string email) =>
        $"If {email} is the confirmed address of an account, a link is on its way. It is good for two hours, and once. Look among unwanted mail too.";

    public override string ResetTitle => "Set a new password";

    public override string ResetLead => "The old one no longer counts from then on, and every other device is signed out.";

    public override string ResetButton => "Set password";

    public override string LinkGoneTitle => "This link is of no use any longer";

    public override string LinkGone => "It has run out, was used before, or a newer one was sent. Nothing was changed.";

    public override string PasswordNew => "New password";

    public override string PasswordHint => "12 to 128 characters of any kind. Three or four words that have nothing to do with each other are good; a password manager's are better.";

    public override string PasswordWrong(PasswordFault fault) => fault switch
    {
        PasswordFault.Short => "Too short: take 12 characters or more.",
        PasswordFault.Long => "Too long: 128 characters are the most that is kept.",
        PasswordFault.Named => "It is made of your name, your address, your cooperative's name or FruitWatch. That is tried first; take other words.",
        PasswordFault.Common => "It is among the passwords that are tried first, or close to one. Take words that are not usually together.",
        _ => "It repeats itself, or follows the keyboard, the alphabet or a row of numbers. That is quickly guessed; take something else.",
    };

    public override string InvitationTitle(string cooperative) => $"Join {cooperative}";

    public override string InvitationSaid(string name, string role) => $"{name}, you are invited to join. Your part: {role}.";

    public override string InvitationMake => "Set a password with which you sign in from now on.";

    public override string InvitationJoin => "Join";

    public override string InvitationJoinAs(string own, string invited) => string.Equals(own, invited, StringComparison.OrdinalIgnoreCase)
        ? $"You are signed in as {own} and join with this account."
        : $"You are signed in as {own} and join with this account. The invitation went to {invited}; this cooperative's mails go there.";

    public override string InvitationHasAccount(string email) => $"There is an account for {email}. Sign in with it, then join.";

    public override string InvitationOther => "I have an account with another address";

    public override string InvitationAlready => "You are a member of this cooperative already, or the invitation was accepted a moment ago.";

    public override string InvitationGoneTitle => "This invitation cannot be used";

    public override string InvitationGone => "It has run out, was accepted before, or was taken back. Ask your coordinator for another one.";

    public override string SetupTitle => "Set up FruitWatch";

    public override string SetupLead => "This makes the first cooperative, and the first account. Its holder coordinates the cooperative and runs this service.";

    public override string SetupCooperative => "Name of the cooperative";

    public override string SetupCooperativeHint => "If there is one of this name, you become its coordinator.";

    public override string SetupName => "Your name";

    public override string SetupNameWrong => "Write a name of at most 80 characters.";

    public override string SetupButton => "Make account";

    public override string SetupGone =>
        "This address is of no use any longer: it is good for an hour, until the first account is made. Start the service again for another one, or use the command coordinator add.";

    public override string SecurityTitle => "How you sign in";

    public override string SecurityLead(string email) => $"Account {email}.";

    public override string SecurityDemo => "This is the demo: nobody signs in here, and nobody has an account. In the service itself this page changes your password, your second step and your address.";

    public override string SecurityNoMember => "You are a member of no cooperative at present. A coordinator can invite you.";

    public override string SecuritySecond => "Second step";

    public override string SecurityCodesOn(int recoveryCodes) => recoveryCodes switch
    {
        0 => "Your app's code is asked for. No recovery codes are left: make new ones.",
        1 => "Your app's code is asked for. One recovery code is left: make new ones.",
        _ => $"Your app's code is asked for. {Number(recoveryCodes)} recovery codes are left.",
    };

    public override string SecurityCodesOff => "No code of an app is asked for.";

    public override string SecurityAdvice => "Please add a second step: you may change everything here, and so may anybody who gets hold of your password.";

    public override string SecurityCodesAdd => "Add an app";

    public override string SecurityCodesChange => "Recovery codes, another phone, turn off";

    public override string SecurityPasskeys(int count) => count switch
    {
        0 => "You have no passkey.",
        1 => "You have one passkey.",
        _ => $"You have {Number(count)} passkeys.",
    };

    public override string SecurityPasskeysChange => "Add or change passkeys";

    public override string SecurityPassword => "Password";

    public override string SecurityPasswordChange => "Change password";

    public override string SecurityPresent => "Present password";

    public override string SecurityPresentOrCode => "Present password, or a code of your app";

    public override string SecurityPresentWrong => "That is not right. Nothing was changed.";

    public override string SecurityAddress => "E-mail address";

    public override string SecurityUnconfirmed => "Not confirmed yet. Until then no new password can be sent there.";

    public override string SecurityConfirmAgain => "Send the link again";

    public override string SecurityAddressNew => "New address";

    public override string SecurityAddressHint => "We send a link there. The address counts once you have opened it.";

    public override string SecurityAddressChange => "Change address";

    public override string SecuritySessions => "Devices";

    public override string SecuritySessionsSaid => "Lost a phone, or used somebody else's computer? Sign out on all devices, this one too.";

    public override string SecurityEverywhere => "Sign out everywhere";

    public override string SecurityFailed => "That did not work; nothing was changed. Begin again.";

    public override string? SecurityDone(string done) => done switch
    {
        "password" => "Your password is changed. Every other device is signed out.",
        "address" => "If the new address can be used, a link is on its way there. Until it is opened the old one counts.",
        "confirm" => "A link is on its way to your address.",
        "codes-on" => "From now on your app's code is asked for. Every other device is signed out.",
        "codes-off" => "No code is asked for any longer.",
        "recovery" => "New recovery codes are made. The old ones no longer count.",
        "passkey-added" => "The passkey is added.",
        "passkey-renamed" => "The passkey has its new name.",
        "passkey-removed" => "The passkey is removed. Delete it on the device too.",
        _ => null,
    };

    public override string CodesTitle => "Codes of an app";

    public override string CodesLead => "An authenticator app on your phone shows a new code every half minute, without any connection. It is asked for after the password.";

    public override string CodesBeginSaid => "You need an authenticator app. Most phones and password managers have one.";

    public override string CodesBegin => "Set up";

    public override string CodesScan => "Scan this picture with the app.";

    public override string CodesPicture => "QR code for the authenticator app; the same secret stands in letters below.";

    public override string CodesType => "Or type this secret into it:";

    public override string CodesEnter => "Code that the app shows now";

    public override string CodesConfirm => "Turn on";

    public override string CodesRecoveryTitle => "Your recovery codes";

    public override string CodesRecoverySaid => "Print or write them down and keep them away from your phone: each lets you in once when the phone is lost. They are not shown again.";

    public override string CodesKept => "I have put them away";

    public override string CodesRecoveryNew => "Make new recovery codes";

    public override string CodesOtherPhone => "Set up another phone";

    public override string CodesOff => "Turn off";

    public override string PasskeysTitle => "Passkeys";

    public override string PasskeysLead => "A passkey is kept by your phone, computer or password manager and opens with your finger, face or PIN. It takes the place of password and code, and cannot be phished.";

    public override string PasskeysNeedScript => "Adding a passkey needs JavaScript, because browsers give passkeys to scripts only. Everything else here works without.";

    public override string PasskeysFull(int most) => $"You have {Number(most)} passkeys. Remove one first.";

    public override string PasskeyMade(LocalDate day) => $"Added on {day.ToString("d MMMM uuuu", Culture)}";

    public override string PasskeyChange => "Rename or remove";

    public override string PasskeyName => "Name";

    public override string PasskeyNameHint => "So that you know it again, such as \"phone\" or \"key in the drawer\".";

    public override string PasskeyNameless(int number) => $"Passkey {Number(number)}";

    public override string PasskeyRename => "Rename";

    public override string PasskeyRemove => "Remove";

    public override string PasskeyAdd => "Add a passkey";

    public override string PasskeyFailed => "That did not work with the passkey. Nothing was changed; try again, or use your password.";

    public override string AddressTitle => "Your address";

    public override string AddressConfirmSaid(string email) => $"Is {email} yours?";

    public override string AddressChangeSaid(string email) => $"Is {email} to be your address from now on? You sign in with it, and mails go there. Every other device is signed out.";

    public override string AddressConfirm => "Yes, it is mine";

    public override string AddressDone(string email) => $"{email} is confirmed.";

    public override string AccountMailSubject(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "Set a new password",
        AccountNews.ConfirmAddress => "Confirm your address",
        AccountNews.NewAddress => "Confirm your new address",
        AccountNews.AddressChanged => "Your address was changed",
        AccountNews.PasswordChanged => "Your password was changed",
        AccountNews.CodesOn => "A second step was turned on",
        AccountNews.CodesOff => "The second step was turned off",
        AccountNews.RecoveryCodesRenewed => "New recovery codes were made",
        AccountNews.RecoveryCodeUsed => "A recovery code was used",
        AccountNews.PasskeyAdded => "A passkey was added",
        _ => "A passkey was removed",
    };

    public override string AccountMailGreeting(string? name) => name is null ? "Hello." : $"Hello, {name}.";

    public override string AccountMailSaid(AccountNews news, string email) => news switch
    {
        AccountNews.ResetAsked => "Somebody asked for a new password for your account. With this link you set one. It is good for two hours, and once.",
        AccountNews.ConfirmAddress => "This address was given for an account. Open the link and confirm that it is yours; it is good for a day.",
        AccountNews.NewAddress => $"The account {email} is to have this address from now on. Open the link and confirm it; it is good for a day.",
        AccountNews.AddressChanged => $"Your account has the address {email} now. From now on you sign in with it.",
        AccountNews.PasswordChanged => "The password of your account was changed just now. Every other device is signed out.",
        AccountNews.CodesOn => "From now on the code of an authenticator app is asked for after your password.",
        AccountNews.CodesOff => "The code of an authenticator app is asked for no longer.",
        AccountNews.RecoveryCodesRenewed => "New recovery codes were made just now. The old ones no longer count.",
        AccountNews.RecoveryCodeUsed => "Somebody signed in just now with your password and one of your recovery codes.",
        AccountNews.PasskeyAdded => "A passkey was added to your account just now.",
        _ => "A passkey was removed from your account just now.",
    };

    public override string AccountMailButton(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "Set a new password",
        AccountNews.ConfirmAddress or AccountNews.NewAddress => "Confirm the address",
        _ => "Open your account",
    };

    public override string AccountMailIfNotYou(AccountNews news) => news switch
    {
        AccountNews.ResetAsked => "If it was not you, you need do nothing: without this link nothing changes.",
        AccountNews.ConfirmAddress or AccountNews.NewAddress => "If you know nothing of it, do nothing: somebody has mistyped theirs.",
        AccountNews.AddressChanged => "If it was not you, tell your coordinator or whoever runs the service at once.",
        _ => "If it was not you, set a new password by mail at once, and tell your coordinator.",
    };

    public override string AccountMailWhyYou(string email) => $"You get this because it concerns the safety of the account {email}. Replies are not read.";

    private string Wait(int seconds) => WaitOf(seconds, "second", "seconds", "minute", "minutes");
}
