// When a screen breaks: what is saved stays saved, and there is a way on.

import { Component, type ComponentChildren } from "preact";
import { ErrorPart } from "../parts/error";
import { say } from "../parts/say";

interface Props {
	children: ComponentChildren;
}

export class Boundary extends Component<Props, { broken: unknown }> {
	override state = { broken: null as unknown };

	override componentDidCatch(error: unknown): void {
		console.error(error);
		this.setState({ broken: error });
	}

	render() {
		if (!this.state.broken) return this.props.children;
		return (
			<main>
				<ErrorPart fault={{ code: "screen-broken" }} />
				<p>
					<a href="/">{say("errors.screen-broken.again")}</a>
				</p>
			</main>
		);
	}
}
