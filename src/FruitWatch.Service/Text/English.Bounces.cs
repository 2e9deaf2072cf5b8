namespace FruitWatch.Service.Text;

internal sealed partial class English
{
    public override string BounceSubject(string person) => $"Mail to {person} comes back";

    public override string BounceGreeting(string name) => $"Hello, {name}.";

    public override string BounceSummary(string person) => $"Mail to {person} came back more than once, so nothing more is sent to that address.";

    public override string BounceAddress(string address) => $"The address: {address}";

    public override string BounceReason(string said) => said.Length > 0 ? $"What the other server said last: {said}" : "The other server gave no reason.";

    public override string BounceMeaning(string person) => $"Until this is mended {person} gets no morning mail and no warning. What waited for them was not sent.";

    public override string BounceToDo(string person) =>
        $"Ask {person} in another way whether the address is right and the mailbox is not full. Then correct the address, or let it be tried again, on their page.";

    public override string BounceToDoTheirs(string person) =>
        $"Ask {person} in another way whether the address is right and the mailbox is not full. If it takes mail again, let it be tried again on their page. If it is another one now, only {person} can change it, on their page “{SecurityTitle}”; mail begins again once they confirm it.";

    public override string BounceOpenPerson => "Open the member's page";

    public override string BounceWhyYou(string cooperative) => $"You get this because you coordinate {cooperative}.";

    public override string BounceOnce => "It is told once.";
}
